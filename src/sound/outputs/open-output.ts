import { openAudioIo } from './audio-io.ts'
import { naudiodonDevices, openNaudiodon } from './naudiodon.ts'
import type { Device, OpenOutput } from './output.ts'
import { openAplay, openPacat } from './pipe.ts'
import { openSpeaker } from './speaker.ts'
import { alsaDevices, sinks } from './system-devices.ts'

export const OPEN: Readonly<Record<Device, OpenOutput>> = {
  naudiodon: openNaudiodon,
  'audio-io': openAudioIo,
  pacat: openPacat,
  aplay: openAplay,
  speaker: openSpeaker,
}

/** The devices that an output can play through, by name; absent = only the system's own choice. */
export const DEVICE_NAMES: Readonly<Partial<Record<Device, () => Promise<readonly string[]>>>> = {
  naudiodon: naudiodonDevices,
  pacat: async () => (await sinks()).map(s => s.title),
  aplay: alsaDevices,
  speaker: alsaDevices,
}

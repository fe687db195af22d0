import { openAplay } from './aplay.ts'
import { openAudioIo } from './audio-io.ts'
import { openNaudiodon } from './naudiodon.ts'
import type { Device, OpenOutput } from './output.ts'
import { openPacat } from './pacat.ts'
import { openSpeaker } from './speaker.ts'

export const OPEN: Readonly<Record<Device, OpenOutput>> = {
  naudiodon: openNaudiodon,
  'audio-io': openAudioIo,
  pacat: openPacat,
  aplay: openAplay,
  speaker: openSpeaker,
}

/**
 * What is used of the outputs that npm leaves out where they do not compile: their types are known without them.
 * Sources: the README of naudiodon 2.3 and of speaker 0.5.
 */

declare module 'naudiodon' {
  export const SampleFormat16Bit: 16
  export const getDevices: () => readonly { id: number; name: string; maxOutputChannels: number }[]
  /** A stream to a device of PortAudio; `deviceId` -1 is the system's own choice. */
  export const AudioIO: (o: {
    outOptions: {
      deviceId: number
      channelCount: number
      sampleFormat: typeof SampleFormat16Bit
      /** Frames a second. */
      sampleRate: number
      /** Frames of one callback of the device. */
      framesPerBuffer: number
      /** Blocks that wait for the callback. */
      maxQueue: number
      closeOnError: boolean
    }
  }) => NodeJS.WritableStream & { start(): void }
}

declare module 'speaker' {
  import type { Writable } from 'node:stream'

  const Speaker: new (format: {
    channels: number
    bitDepth: number
    /** Frames a second. */
    sampleRate: number
    /** A device of ALSA by name; absent = the system's own choice. */
    device?: string
  }) => Writable
  // biome-ignore lint/style/noDefaultExport: as the package has it
  export default Speaker
}

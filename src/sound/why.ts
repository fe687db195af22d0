import { printable } from '../music/result.ts'
import type { Device } from './outputs/output.ts'

const PACKAGE: Readonly<Partial<Record<Device, string>>> = {
  naudiodon: 'naudiodon',
  'audio-io': '@echogarden/audio-io',
  speaker: 'speaker',
}
const COMMAND: Readonly<Partial<Record<Device, string>>> = { pacat: 'pulseaudio-utils', aplay: 'alsa-utils' }

/** What a package that is compiled needs. */
const needs = (d: Device, system: NodeJS.Platform): string =>
  system === 'linux'
    ? `Type: sudo apt install ${d === 'speaker' ? 'libasound2-dev ' : ''}build-essential python3, then`
    : 'Install a C++ compiler and python3, then'

/** Here only an installation helps. */
const LASTING = [
  "isn't installed",
  "isn't part of",
  "isn't built",
  'another version of Node',
  'is missing',
  "isn't made for",
]
export const lasting = (reason: string): boolean => LASTING.some(l => reason.includes(l))

/** What an error's text means to someone who wants to hear a click, and what to do; the first that fits. */
const MEANINGS: readonly (readonly [
  RegExp,
  (d: Device, system: NodeJS.Platform, archive: boolean) => string,
])[] = [
  [
    /NODE_MODULE_VERSION|different Node|did not self-register/i,
    d => `it was built for another version of Node. Type: npm rebuild ${PACKAGE[d] ?? ''}`,
  ],
  [
    /libasound[^ ]*: cannot open|libasound.*No such file/i,
    () => 'the system library libasound2 is missing. Type: sudo apt install libasound2',
  ],
  [
    /locate the bindings file|Cannot find module '.*\.node'/i,
    (d, system) => `it isn't built. ${needs(d, system)} npm rebuild ${PACKAGE[d] ?? ''}`,
  ],
  [
    /Cannot find (package|module)/i,
    (d, system, archive) =>
      d === 'audio-io'
        ? "it isn't installed: install Gradino again"
        : archive
          ? "it isn't part of this download"
          : `it isn't installed: it has to be compiled here. ${needs(d, system)} install Gradino again`,
  ],
  [/platform .* is not supported/i, () => "it isn't made for this kind of computer"],
  [
    /ENOENT/,
    (d, system) =>
      system === 'linux'
        ? `it isn't installed. Type: sudo apt install ${COMMAND[d] ?? d}`
        : "it isn't made for this kind of computer",
  ],
  [/no such device: /, () => 'it has no device of the name you chose'],
  [
    /did not answer/,
    () => "the sound device didn't answer in time: the computer is very busy, or the device hangs",
  ],
  [
    /Format not supported|Invalid sample rate|sample format|rate .* not/i,
    () => "the sound device doesn't take 48 kHz stereo",
  ],
  [
    /No default device|open (audio|output) device|Connection (refused|failure)|audio open error|No such (file|device|entity)|cannot find card|Unknown PCM|SIGABRT|Assertion/i,
    () => 'no sound device found: plug one in, or turn it on',
  ],
]

/** One plain clause why an output does not work, from what its process left behind. */
export const why = (
  device: Device,
  raw: string,
  system: NodeJS.Platform = process.platform,
  /** Started from a download that holds Node and what is prebuilt: nothing can be compiled into it. */
  archive = process.env.GRADINO_ARCHIVE !== undefined,
): string => {
  const meaning = MEANINGS.find(([pattern]) => pattern.test(raw))
  if (meaning) return meaning[1](device, system, archive)
  return printable(raw).replace(/ +/g, ' ').trim().slice(-200) || 'it ended without a word'
}

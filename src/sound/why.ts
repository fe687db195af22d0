import { printable } from '../music/result.ts'
import type { Device } from './outputs/output.ts'

const PACKAGE: Readonly<Partial<Record<Device, string>>> = {
  naudiodon: 'naudiodon',
  'audio-io': '@echogarden/audio-io',
  speaker: 'speaker',
}
const COMMAND: Readonly<Partial<Record<Device, string>>> = { pacat: 'pulseaudio-utils', aplay: 'alsa-utils' }

/** What an error's text means to someone who wants to hear a click; the first that fits. */
const MEANINGS: readonly (readonly [RegExp, (d: Device) => string])[] = [
  [
    /NODE_MODULE_VERSION|different Node|did not self-register/i,
    d => `built for another Node: npm rebuild ${PACKAGE[d] ?? ''}`,
  ],
  [
    /libasound[^ ]*: cannot open|libasound.*No such file/i,
    () => 'the system library libasound2 is missing: install it',
  ],
  [
    /locate the bindings file|Cannot find module '.*\.node'/i,
    d => `not built: npm rebuild ${PACKAGE[d] ?? ''} (needs python3, make, a C++ compiler)`,
  ],
  [/Cannot find (package|module)/i, d => `not installed: npm install ${PACKAGE[d] ?? ''}`],
  [/platform .* is not supported/i, () => 'not made for this kind of computer'],
  [/ENOENT/, d => `the program ${d} is not installed${COMMAND[d] ? ` (package ${COMMAND[d]})` : ''}`],
  [/did not answer/, () => 'the sound device did not answer in time'],
  [
    /Format not supported|Invalid sample rate|sample format|rate .* not/i,
    () => 'the sound device does not take 48 kHz stereo',
  ],
  [
    /No default device|open (audio|output) device|Connection (refused|failure)|audio open error|No such (file|device|entity)|cannot find card|Unknown PCM|SIGABRT|Assertion/i,
    () => 'no sound device found',
  ],
]

/** One plain clause why an output does not work, from what its process left behind. */
export const why = (device: Device, raw: string): string => {
  const meaning = MEANINGS.find(([pattern]) => pattern.test(raw))
  if (meaning) return meaning[1](device).trim()
  return printable(raw).replace(/ +/g, ' ').trim().slice(-200) || 'ended without a word'
}

import { describe, expect, test } from 'vitest'
import { why } from '../../src/sound/why.ts'

// Texts as the outputs really leave them.
describe('why an output does not work, in plain words', () => {
  test.each([
    ['naudiodon', 'No default device', 'no sound device found'],
    ['audio-io', 'Failed to open audio device: No such file or directory', 'no sound device found'],
    [
      'speaker',
      "node: ../src/binding.c:219: Assertion `x == napi_ok' failed. SIGABRT",
      'no sound device found',
    ],
    [
      'aplay',
      'aplay ended (1) aplay: main:831: audio open error: No such file or directory',
      'no sound device found',
    ],
    ['pacat', 'pacat ended (1) Connection failure: Connection refused', 'no sound device found'],
    ['pacat', 'spawn pacat ENOENT', 'the program pacat is not installed (package pulseaudio-utils)'],
    [
      'naudiodon',
      "Cannot find package 'naudiodon' imported from player.js",
      'not installed: npm install naudiodon',
    ],
    [
      'naudiodon',
      "The module '.../naudiodon.node' was compiled against a different Node.js version using NODE_MODULE_VERSION 115.",
      'built for another Node: npm rebuild naudiodon',
    ],
    ['speaker', 'Module did not self-register', 'built for another Node: npm rebuild speaker'],
    [
      'speaker',
      'Could not locate the bindings file. Tried: ...',
      'not built: npm rebuild speaker (needs python3, make, a C++ compiler)',
    ],
    [
      'audio-io',
      'libasound.so.2: cannot open shared object file: No such file or directory',
      'the system library libasound2 is missing: install it',
    ],
    ['naudiodon', 'did not answer', 'the sound device did not answer in time'],
    [
      'naudiodon',
      'Format not supported: Invalid sample rate',
      'the sound device does not take 48 kHz stereo',
    ],
  ] as const)('%s: %s', (device, raw, plain) => {
    expect(why(device, raw)).toBe(plain)
  })

  test('anything else is shown as it is, in one short line without control characters', () => {
    expect(why('aplay', 'a strange\n\u001b[31mthing\u0007 happened')).toBe('a strange [31mthing happened')
    expect(why('aplay', '  ')).toBe('ended without a word')
  })
})

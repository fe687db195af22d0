import { describe, expect, test } from 'vitest'
import { lasting, why } from '../../src/sound/why.ts'

// Texts as the outputs really leave them.
describe('why an output does not work, in plain words', () => {
  test.each([
    ['naudiodon', 'No default device', 'no sound device found: plug one in, or turn it on'],
    [
      'audio-io',
      'Failed to open audio device: No such file or directory',
      'no sound device found: plug one in, or turn it on',
    ],
    [
      'speaker',
      "node: ../src/binding.c:219: Assertion `x == napi_ok' failed. SIGABRT",
      'no sound device found: plug one in, or turn it on',
    ],
    [
      'aplay',
      'aplay ended (1) aplay: main:831: audio open error: No such file or directory',
      'no sound device found: plug one in, or turn it on',
    ],
    [
      'pacat',
      'pacat ended (1) Connection failure: Connection refused',
      'no sound device found: plug one in, or turn it on',
    ],
    ['pacat', 'spawn pacat ENOENT', "it isn't installed. Type: sudo apt install pulseaudio-utils"],
    [
      'naudiodon',
      "Cannot find package 'naudiodon' imported from player.js",
      "it isn't installed: it has to be compiled here. Type: sudo apt install build-essential python3, then install Gradino again",
    ],
    [
      'speaker',
      "Cannot find package 'speaker' imported from player.js",
      "it isn't installed: it has to be compiled here. Type: sudo apt install libasound2-dev build-essential python3, then install Gradino again",
    ],
    [
      'naudiodon',
      "The module '.../naudiodon.node' was compiled against a different Node.js version using NODE_MODULE_VERSION 115.",
      'it was built for another version of Node. Type: npm rebuild naudiodon',
    ],
    [
      'speaker',
      'Module did not self-register',
      'it was built for another version of Node. Type: npm rebuild speaker',
    ],
    [
      'speaker',
      'Could not locate the bindings file. Tried: ...',
      "it isn't built. Type: sudo apt install libasound2-dev build-essential python3, then npm rebuild speaker",
    ],
    [
      'audio-io',
      'libasound.so.2: cannot open shared object file: No such file or directory',
      'the system library libasound2 is missing. Type: sudo apt install libasound2',
    ],
    [
      'naudiodon',
      'did not answer',
      "the sound device didn't answer in time: the computer is very busy, or the device hangs",
    ],
    ['pacat', 'no such device: Studio', 'it has no device of the name you chose'],
    ['naudiodon', 'Format not supported: Invalid sample rate', "the sound device doesn't take 48 kHz stereo"],
  ] as const)('%s: %s', (device, raw, plain) => {
    expect(why(device, raw, 'linux')).toBe(plain)
  })

  test('anything else is shown as it is, in one short line without control characters', () => {
    expect(why('aplay', 'a strange\n\u001b[31mthing\u0007 happened')).toBe('a strange [31mthing happened')
    expect(why('aplay', '  ')).toBe('it ended without a word')
  })

  test('in a download nobody is told to compile anything: what is not in it is said to be not in it', () => {
    const plain = why('naudiodon', "Cannot find package 'naudiodon' imported from player.js", 'linux', true)
    expect(plain).toBe("it isn't part of this download")
    expect(lasting(plain)).toBe(true)
  })

  test('elsewhere nobody is sent to a package manager of Linux', () => {
    for (const raw of [
      'spawn pacat ENOENT',
      "Cannot find package 'speaker'",
      'Could not locate the bindings file',
    ])
      for (const system of ['darwin', 'win32'] as const) expect(why('pacat', raw, system)).not.toMatch(/apt/)
  })

  test('what only an installation changes is told apart from what may be there in a second', () => {
    const says = (raw: string): boolean => lasting(why('speaker', raw, 'linux'))
    expect(says("Cannot find package 'speaker'")).toBe(true)
    expect(says('Module did not self-register')).toBe(true)
    expect(says('spawn pacat ENOENT')).toBe(true)
    expect(says('audio open error: No such file or directory')).toBe(false)
    expect(says('did not answer')).toBe(false)
  })
})

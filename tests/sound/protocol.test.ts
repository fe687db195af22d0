import { describe, expect, test } from 'vitest'
import { DEFAULT_LEVELS } from '../../src/click/voices.ts'
import { readFromPlayer, readToPlayer } from '../../src/sound/protocol.ts'
import { tempo } from './scene.ts'

const throughJson = (m: unknown): unknown => JSON.parse(JSON.stringify(m))

describe('what the two processes say to each other', () => {
  test.each([
    { k: 'play', id: 1, program: tempo(92, 4), after: 'now' },
    { k: 'play', id: 2, program: tempo(92, 4), after: 1 },
    {
      k: 'play',
      id: 3,
      program: { ...tempo(92, 4), tone: { hz: 233.08, dbfs: -20, from: 0, to: 9600 } },
      after: 'now',
    },
    { k: 'stop' },
    { k: 'levels', levels: DEFAULT_LEVELS },
    { k: 'bye' },
  ])('the player understands $k', m => {
    expect(readToPlayer(throughJson(m))).toEqual(m)
  })

  test.each([
    { k: 'ready', output: 'aplay', rate: 48000, depthMs: 101, device: 'Headphones', devices: [] },
    { k: 'started', id: 1, frame: 10560 },
    { k: 'clock', frame: 480, heardAt: 1234.5, from: 0 },
    { k: 'cut', id: 1, frame: 0 },
    { k: 'ended', id: 1 },
    { k: 'trouble', kind: 'underrun', frame: 4800 },
    { k: 'failed', reason: 'No default device' },
  ])('the screen understands $k', m => {
    expect(readFromPlayer(throughJson(m))).toEqual(m)
  })

  test.each([
    ['no message', null],
    ['an unknown word', { k: 'sing' }],
    ['an id that is no number', { k: 'play', id: 'first', program: tempo(92, 4), after: 'now' }],
    ['an id below one', { k: 'play', id: 0, program: tempo(92, 4), after: 'now' }],
    ['half a frame', { k: 'play', id: 1, program: { ...tempo(92, 4), frames: 1.5 }, after: 'now' }],
    ['a program without length', { k: 'play', id: 1, program: { ...tempo(92, 4), frames: 0 }, after: 'now' }],
    [
      'a role nobody has a voice for',
      { k: 'play', id: 1, program: tempo(92, 4, 'gong' as never), after: 'now' },
    ],
    ['a loudness that is no dynamic', { k: 'levels', levels: { ...DEFAULT_LEVELS, master: 'fff' } }],
  ])('the player refuses %s aloud', (_, m) => {
    expect(() => readToPlayer(m)).toThrow()
  })

  test('the screen answers null to what it does not understand', () => {
    expect(readFromPlayer({ k: 'clock', frame: 480, heardAt: 'soon', from: 0 })).toBeNull()
    expect(readFromPlayer(undefined)).toBeNull()
  })
})

import { describe, expect, test } from 'vitest'
import { DEFAULT_LEVELS } from '../../src/click/voices.ts'
import { readFromPlayer, readToPlayer } from '../../src/sound/protocol.ts'
import { tempo } from './scene.ts'

const throughJson = (m: unknown): unknown => JSON.parse(JSON.stringify(m))

describe('what the two processes say to each other', () => {
  test.each([
    { kind: 'play', id: 1, program: tempo(92, 4), after: 'now' },
    { kind: 'play', id: 2, program: tempo(92, 4), after: 1 },
    {
      kind: 'play',
      id: 3,
      program: { ...tempo(92, 4), tone: { hz: 233.08, dbfs: -20, from: 0, to: 9600 } },
      after: 'now',
    },
    { kind: 'stop' },
    { kind: 'levels', levels: DEFAULT_LEVELS },
    { kind: 'bye' },
  ])('the player understands $k', m => {
    expect(readToPlayer(throughJson(m))).toEqual(m)
  })

  test.each([
    { kind: 'ready', output: 'aplay', rate: 48000, depthMs: 101, device: 'Headphones', devices: [] },
    { kind: 'started', id: 1, frame: 10560 },
    { kind: 'clock', frame: 480, heardAt: 1234.5, from: 0 },
    { kind: 'cut', id: 1, frame: 0 },
    { kind: 'ended', id: 1 },
    { kind: 'trouble', what: 'underrun', frame: 4800 },
    { kind: 'failed', reason: 'No default device' },
  ])('the screen understands $k', m => {
    expect(readFromPlayer(throughJson(m))).toEqual(m)
  })

  test.each([
    ['no message', null],
    ['an unknown word', { kind: 'sing' }],
    ['an id that is no number', { kind: 'play', id: 'first', program: tempo(92, 4), after: 'now' }],
    ['an id below one', { kind: 'play', id: 0, program: tempo(92, 4), after: 'now' }],
    ['half a frame', { kind: 'play', id: 1, program: { ...tempo(92, 4), frames: 1.5 }, after: 'now' }],
    [
      'a program without length',
      { kind: 'play', id: 1, program: { ...tempo(92, 4), frames: 0 }, after: 'now' },
    ],
    [
      'a role nobody has a voice for',
      { kind: 'play', id: 1, program: tempo(92, 4, 'gong' as never), after: 'now' },
    ],
    ['a loudness that is no dynamic', { kind: 'levels', levels: { ...DEFAULT_LEVELS, master: 'fff' } }],
  ])('the player refuses %s aloud', (_, m) => {
    expect(() => readToPlayer(m)).toThrow()
  })

  test('the screen answers null to what it does not understand', () => {
    expect(readFromPlayer({ kind: 'clock', frame: 480, heardAt: 'soon', from: 0 })).toBeNull()
    expect(readFromPlayer(undefined)).toBeNull()
  })
})

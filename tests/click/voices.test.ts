import { createHash } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { ROLES, type Role } from '../../src/click/program.ts'
import {
  CHARACTERS,
  type Character,
  DEFAULT_LEVELS,
  DYNAMICS,
  type Dynamic,
  LONGEST,
  voice,
} from '../../src/click/voices.ts'
import { centroid, pitch } from './spectrum.ts'
import { all, onset, RATE } from './support.ts'

const sound = (role: Role, character: Character = 'wood', level: Dynamic = 'ff', master: Dynamic = 'ff') =>
  voice(onset(role), RATE, all(level, character, master))

const top = (x: Float64Array): number => x.reduce((m, s) => Math.max(m, Math.abs(s)), 0)
const dbfs = (x: Float64Array): number => 20 * Math.log10(top(x) / 32_767)

const TICKS = ['downbeat', 'group', 'beat', 'sub'] as const

describe.each(CHARACTERS)('the %s voices', character => {
  test('begin exactly at their onset, even at the softest level', () => {
    for (const role of ROLES) expect(Math.round(sound(role, character, 'pp', 'pp')[0] as number)).not.toBe(0)
  })

  test('reach a third of their peak within two milliseconds', () => {
    for (const role of ROLES) {
      const wave = sound(role, character)
      expect(wave.findIndex(s => Math.abs(s) > top(wave) / 3)).toBeLessThan(0.002 * RATE)
    }
  })

  test('die away to nothing, and none is longer than the renderer looks back', () => {
    for (const role of ROLES) {
      const wave = sound(role, character)
      expect(Math.abs(wave.at(-1) as number)).toBeLessThan(2)
      expect(wave.length).toBeLessThanOrEqual(LONGEST * RATE)
    }
  })

  test('grow shorter from the downbeat inward, and differ in pitch', () => {
    const height = character === 'unpitched' ? centroid : pitch
    const waves = TICKS.map(r => sound(r, character))
    for (let i = 1; i < waves.length; i++) {
      const [a, b] = [waves[i - 1] as Float64Array, waves[i] as Float64Array]
      expect(b.length).toBeLessThan(a.length)
      // A fourth is 4:3; a little less is heard as clearly in noise.
      expect(height(a, RATE) / height(b, RATE)).toBeGreaterThan(character === 'unpitched' ? 1.15 : 1.3)
    }
  })
})

test('the voices are the same in every run, and sound as they always did: whoever changes one has listened to it, and puts its sum here', () => {
  const waves = CHARACTERS.flatMap(c => ROLES.map(r => Int16Array.from(sound(r, c), Math.round)))
  const first = CHARACTERS.map(c => voice(onset('countIn', 0, 1), RATE, all('ff', c)))
  waves.push(...first.map(w => Int16Array.from(w, Math.round)))
  const levels = DYNAMICS.flatMap(d => [sound('beat', 'wood', d), sound('beat', 'wood', 'ff', d)])
  waves.push(...levels.map(w => Int16Array.from(w, Math.round)))
  const sum = createHash('sha256')
  for (const w of waves) sum.update(Buffer.from(w.buffer))
  expect(sum.digest('hex').slice(0, 16)).toBe('7d0720730a7375c7')
})

test('guide and breath lie below every tick, a fourth or more apart', () => {
  const heights = (['sub', 'guide', 'breath'] as const).map(r => pitch(sound(r), RATE))
  expect((heights[0] as number) / (heights[1] as number)).toBeGreaterThan(1.3)
  expect((heights[1] as number) / (heights[2] as number)).toBeGreaterThan(1.3)
})

// A = 440 Hz: ISO 16:1975. Equal temperament: 440 x 2^(n/12).
test('no pitched click can be tuned to: each stands a quarter-tone beside the notes of A = 440 Hz', () => {
  for (const character of ['wood', 'bright'] as const)
    for (const role of TICKS) {
      const cents = 1200 * Math.log2(pitch(sound(role, character), RATE) / 440)
      const beside = Math.abs(cents - 100 * Math.round(cents / 100))
      expect(beside).toBeGreaterThan(35)
    }
})

test('the count-in has a voice of its own, longer than any beat of the music; the first of a measure is accented', () => {
  const levels = all('f')
  for (const character of CHARACTERS) {
    const [first, second] = [1, 2].map(beat =>
      voice(onset('countIn', 0, beat), RATE, { ...levels, character }),
    )
    expect(first).not.toEqual(second)
    for (const role of ['downbeat', 'group', 'beat', 'sub'] as const)
      expect(second?.length).toBeGreaterThan(sound(role, character).length)
  }
})

test('counted rests have the pitch and length of the count-in, and are much softer', () => {
  for (const beat of [1, 2]) {
    const [rest, counted] = (['rest', 'countIn'] as const).map(r =>
      voice(onset(r, 0, beat), RATE, DEFAULT_LEVELS),
    )
    expect(rest?.length).toBe(counted?.length)
    expect(dbfs(counted as Float64Array) - dbfs(rest as Float64Array)).toBeCloseTo(12, 6)
  }
  // Saved before there were rests, the levels say nothing of them.
  const { rest: _, ...roles } = DEFAULT_LEVELS.roles
  expect(voice(onset('rest'), RATE, { ...DEFAULT_LEVELS, roles })).toEqual(
    voice(onset('rest'), RATE, DEFAULT_LEVELS),
  )
})

describe('loudness', () => {
  test('rises with each dynamic, of a role and of the master', () => {
    const steps = DYNAMICS.slice(1)
    for (let i = 1; i < steps.length; i++) {
      const [soft, loud] = [steps[i - 1] as Dynamic, steps[i] as Dynamic]
      expect(dbfs(sound('beat', 'wood', loud)) - dbfs(sound('beat', 'wood', soft))).toBeGreaterThan(3)
      expect(
        dbfs(sound('beat', 'wood', 'ff', loud)) - dbfs(sound('beat', 'wood', 'ff', soft)),
      ).toBeGreaterThan(3)
    }
  })

  test('off is silence, for a role and for the master', () => {
    expect(top(sound('beat', 'wood', 'off'))).toBe(0)
    expect(top(sound('beat', 'wood', 'ff', 'off'))).toBe(0)
  })

  test('a beat at mf peaks at -24 dBFS as the program comes: quiet by default', () => {
    expect(dbfs(voice(onset('beat'), RATE, DEFAULT_LEVELS))).toBeCloseTo(-24, 6)
  })
})

import fc from 'fast-check'
import { expect, it } from 'vitest'
import type { Body, Event } from '../../src/ladder/event.ts'
import { recordId } from '../../src/store/log.ts'
import { decode, decodeAny, decodeOwn, encode } from '../../src/store/record.ts'
import { happening } from './scene.ts'
import { opening } from './visit.ts'

const written = (body: Body, n: number, time: number, offset: number): string => {
  const event = { ...body, id: recordId('desk', n), session: 'desk', n, visit: recordId('desk', 1) }
  return encode({ ...event, time: new Date(time).toISOString(), offset } as Event)
}

const lines = fc
  .tuple(
    fc.oneof({ weight: 9, arbitrary: happening }, { weight: 1, arbitrary: fc.constant(opening()) }),
    fc.integer({ min: 0, max: 1_500_000 }),
    fc.integer({ min: -62_167_219_200_000, max: 253_402_300_799_999 }),
    fc.constantFrom(60, 0, -480, 845, 1440, -1440, 1441),
  )
  .map(([body, n, time, offset]) => written(body, n, time, offset))

/** Damage as disks, editors and ill will do it: a letter changed, lost or doubled, a number or a word that is another. */
const spoilt = fc
  .tuple(
    lines,
    fc.nat(400),
    fc.oneof(
      fc.constantFrom('', '0', '1', '9', '-', '"', '\\', ' ', '}', ',', '1e1', '.5', '\u001b', 'é', '\u2028'),
      fc.string({ unit: 'binary', maxLength: 3 }),
    ),
    fc.nat(2),
  )
  .map(([line, at, put, lost]) => {
    const i = at % line.length
    return line.slice(0, i) + put + line.slice(i + lost)
  })

const swapped = fc
  .tuple(
    lines,
    fc.constantFrom(
      [/-\d\d-\d\dT/, '-02-29T'],
      [/-\d\d-\d\dT/, '-02-30T'],
      [/-\d\d-\d\dT/, '-04-31T'],
      [/-\d\d-\d\dT/, '-12-31T'],
      [/-\d\d-\d\dT/, '-00-10T'],
      [/T\d\d/, 'T24'],
      [/:\d\d\./, ':60.'],
      [/\.\d{3}Z/, 'Z'],
      [/"n":\d+/, '"n":0'],
      [/"n":\d+/, '"n":08'],
      [/"n":\d+/, '"n":2000'],
      [/"d":\d+/, '"d":0'],
      [/"d":\d+/, '"d":100001'],
      [/"d":\d+/, '"d":6'],
      [/"rep":\d+/, '"rep":007'],
      [/"rep":\d+/, '"rep":-1'],
      [/"offset":-?\d+/, '"offset":-0'],
      [/"offset":-?\d+/, '"offset":1441'],
      [/"id":"desk-\d+/, '"id":"desk-000001'],
      [/"id":"desk/, '"id":"door'],
      [/"visit":"desk-\d+/, '"visit":"desk-999999'],
      [/"clean":true/, '"clean":true,"place":"m. 43"'],
      [/"clean":true/, '"clean":true,"clean":false'],
      [/"whole":true/, '"whole":1'],
      [/"air":[\d.]+/, '"air":0'],
      [/"air":[\d.]+/, '"air":0.0'],
      [/"air":[\d.]+/, '"air":07.5'],
      [/"air":[\d.]+/, '"air":7.50'],
      [/"air":[\d.]+/, '"air":600.01'],
      [/"air":[\d.]+/, '"air":999'],
      [/"air":[\d.]+/, '"air":7.123'],
      [/"air":[\d.]+/, '"air":"7"'],
      [/"v":1/, '"v":2'],
      [/"verdict"/, '"take"'],
    ),
  )
  .map(([line, [from, to]]) => line.replace(from as RegExp, to as string))

it('lines of our own are understood quickly, and exactly as the schemas understand them', () => {
  let quick = 0
  fc.assert(
    fc.property(fc.oneof(lines, spoilt, swapped), line => {
      const own = decodeOwn(line)
      if (own === null) return
      quick++
      const any = decodeAny(line)
      expect(own).toStrictEqual(any)
      // Also in the order of its parts, so that what is written again is the same.
      expect(JSON.stringify(own)).toBe(JSON.stringify(any))
    }),
    { numRuns: 2000 },
  )
  expect(quick).toBeGreaterThan(60)
})

it('every verdict of today is one of them', () => {
  fc.assert(
    fc.property(
      happening.filter(b => b.kind === 'verdict' && b.place === undefined),
      fc.integer({ min: 2, max: 2000 }),
      fc.integer({ min: Date.UTC(2026, 0, 1), max: Date.UTC(2026, 1, 28) }),
      (body, n, time) => {
        expect(decodeOwn(written(body, n, time, 60))).toMatchObject({ kind: 'verdict', n, session: 'desk' })
      },
    ),
  )
})

it('the largest numbers that are kept are read back, and none beyond them', () => {
  const read = (unit: { n: number; d: number }, bpm: { n: number; d: number }): boolean =>
    typeof decode(
      written({ kind: 'verdict', rep: 1, tempo: { unit, bpm }, whole: true, clean: true }, 2, 0, 0),
    ) === 'object'
  const quarter = { n: 1, d: 4 }
  expect(read({ n: 1023, d: 1024 }, { n: 100_000_000, d: 1 })).toBe(true)
  expect(read(quarter, { n: 9_999_999, d: 100_000 })).toBe(true)
  expect(read({ n: 1024, d: 1023 }, { n: 1, d: 1 })).toBe(true)
  expect(read({ n: 1, d: 1025 }, { n: 1, d: 1 })).toBe(false)
  expect(read({ n: 1025, d: 1 }, { n: 1, d: 1 })).toBe(false)
  expect(read(quarter, { n: 100_000_001, d: 1 })).toBe(false)
  expect(read(quarter, { n: 9_999_999, d: 100_001 })).toBe(false)
})

it('more different tempos than are remembered are all understood', () => {
  for (let i = 1; i < 12_000; i++) {
    const bpm = { n: i, d: 1 }
    const line = written(
      { kind: 'verdict', rep: 1, tempo: { unit: { n: 1, d: 4 }, bpm }, whole: true, clean: true },
      2,
      0,
      0,
    )
    expect(decode(line)).toMatchObject({ tempo: { bpm } })
  }
})

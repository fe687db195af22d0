import fc from 'fast-check'
import { expect, it } from 'vitest'
import { chordGate } from '../../src/terminal/chord.ts'
import type { Key } from '../../src/terminal/tokenizer.ts'

/** Keys as [id, at], looked at every 10 ms as the terminal's timer does; what came out of the gate, in order. */
const through = (keys: readonly (readonly [string, number])[], own: readonly string[] = []): Key[] => {
  const gate = chordGate(own)
  const out: Key[] = []
  for (const [id, at] of keys) {
    const due = gate.due()
    if (due !== null && due <= at) out.push(...gate.flush(due))
    out.push(...gate.feed({ id, at }))
  }
  return [...out, ...gate.flush(Number.POSITIVE_INFINITY)]
}

it('an elbow on the keyboard is one press, whichever keys it meets', () => {
  expect(
    through([
      ['j', 0],
      ['k', 8],
      ['m', 21],
      [',', 40],
    ]),
  ).toEqual([{ id: 'chord', at: 0 }])
})

it('held down it repeats as one key does: the lock takes care of that', () => {
  const out = through([
    ['j', 0],
    ['k', 8],
    ['k', 508],
    ['k', 541],
    ['k', 574],
  ])
  expect(out.map(k => k.id)).toEqual(['chord', 'chord', 'chord', 'chord'])
})

it('a key by itself is that key, 60 ms later, with the time of its press', () => {
  const gate = chordGate([])
  expect(gate.feed({ id: 't', at: 100 })).toEqual([])
  expect(gate.due()).toBe(160)
  expect(gate.flush(159)).toEqual([])
  expect(gate.flush(160)).toEqual([{ id: 't', at: 100 }])
  expect(gate.due()).toBeNull()
})

it('a pedal that sends two keys is a chord, the other pedal and Ctrl+C pass at once', () => {
  expect(
    through([
      ['Down', 0],
      ['Enter', 4],
    ]).map(k => k.id),
  ).toEqual(['chord'])
  const gate = chordGate(['PageUp'])
  gate.feed({ id: 'x', at: 0 })
  expect(gate.feed({ id: 'PageUp', at: 10 }).map(k => k.id)).toEqual(['x', 'PageUp'])
  expect(gate.feed({ id: 'C-c', at: 20 }).map(k => k.id)).toEqual(['C-c'])
})

it('keys pressed one after another are never lost and never a chord', () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.constantFrom('a', 'b', 'c', 'Enter'), fc.integer({ min: 61, max: 900 })), {
        maxLength: 40,
      }),
      list => {
        let at = 0
        const keys = list.map(([id, gap]) => {
          at += gap
          return [id, at] as const
        })
        expect(through(keys)).toEqual(keys.map(([id, t]) => ({ id, at: t })))
      },
    ),
  )
})

it('all keys that come within two spans of the first belong to the chord; a later one is a key by itself', () => {
  const keys = (last: number) =>
    through([
      ['j', 0],
      ['k', 8],
      ['m', last],
    ]).map(k => k.id)
  expect(keys(120)).toEqual(['chord'])
  expect(keys(121)).toEqual(['chord', 'm'])
})

it('two keys are a chord less than 60 ms apart, and each by itself from there on', () => {
  const second = (at: number): Key[] => {
    const gate = chordGate([])
    expect(gate.feed({ id: 'j', at: 0 })).toEqual([])
    return gate.feed({ id: 'k', at })
  }
  expect(second(59)).toEqual([{ id: 'chord', at: 0 }])
  expect(second(60)).toEqual([{ id: 'j', at: 0 }])
})

it('a key that bounces is that key twice', () => {
  expect(
    through([
      ['t', 0],
      ['t', 30],
    ]),
  ).toEqual([
    { id: 't', at: 0 },
    { id: 't', at: 30 },
  ])
})

it('any key of a chord repeats it while it is held; two seconds after the last one it is itself again', () => {
  const out = through([
    ['j', 0],
    ['k', 8],
    ['m', 21],
    ['m', 2020],
    ['j', 4019],
    ['k', 6019],
  ])
  expect(out).toEqual([
    { id: 'chord', at: 0 },
    { id: 'chord', at: 2020 },
    { id: 'chord', at: 4019 },
    { id: 'k', at: 6019 },
  ])
})

it('nothing is waited for once a chord, the other pedal or Ctrl+C came', () => {
  const gate = chordGate(['PageUp'])
  gate.feed({ id: 'j', at: 0 })
  gate.feed({ id: 'k', at: 8 })
  expect(gate.due()).toBeNull()
  expect(gate.flush(5000)).toEqual([])
  gate.feed({ id: 'x', at: 6000 })
  gate.feed({ id: 'PageUp', at: 6010 })
  expect(gate.due()).toBeNull()
  expect(gate.flush(9000)).toEqual([])
})

it('is the same chord at any time of the day', () => {
  const hour = 3_600_000
  expect(
    through([
      ['j', hour],
      ['k', hour + 8],
      ['m', hour + 120],
      ['m', hour + 620],
      ['n', hour + 700],
    ]).map(k => [k.id, k.at - hour]),
  ).toEqual([
    ['chord', 0],
    ['chord', 620],
    ['n', 700],
  ])
})

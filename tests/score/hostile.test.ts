import fc from 'fast-check'
import { strToU8, zipSync } from 'fflate'
import { describe, expect, test } from 'vitest'
import { printable, sentence } from '../../src/music/result.ts'
import { tempo } from '../../src/music/tempo.ts'
import { hardness } from '../../src/score/hardness.ts'
import { proposePassages } from '../../src/score/proposals.ts'
import { readPart } from '../../src/score/read-part.ts'
import { readScore } from '../../src/score/read-score.ts'
import { performed } from '../../src/score/repeats.ts'
import { formOf } from '../../src/score/to-form.ts'
import { cpuMs } from '../cpu.ts'
import {
  backward,
  bytes,
  direction,
  ending,
  head,
  mark,
  must,
  note,
  rest,
  scoreText,
  time,
  words,
} from './scores.ts'

/** A score with everything in it that is read. */
const full = scoreText(
  [
    {
      attrs: 'number="0" implicit="yes"',
      inside: head('3+2', 8) + mark('quarter.', 'c. 80', '120') + note(2),
    },
    note(4, '<notations><slur type="start"/><articulations><breath-mark/></articulations></notations>') +
      note(4, '<notations><fermata/><slur type="stop"/></notations>', 'F#5') +
      rest(2),
    words('rit.') +
      note(5) +
      '<backup><duration>5</duration></backup>' +
      note(10, '<chord/>', 'A4') +
      backward(),
    ...[ending('1')].map(([a, b]) => a + mark('quarter', '60') + note(10) + b),
    `<attributes>${time('2', 4)}${time('3', 8)}</attributes>${direction('<segno/>')}${note(10)}`,
    words('D.S. al Fine', '<sound dalsegno="" tempo="90"/>') +
      direction('<rehearsal>A</rehearsal>') +
      note(10),
  ],
  [head() + note(16)],
)

/** All that a player does with a file; gives the sentences of what was refused. */
const useAll = (file: Uint8Array): readonly string[] => {
  const score = readScore(file, 'weir.mxl')
  if (!score.ok) return [sentence(score.problem)]
  return score.value.parts.flatMap(p => {
    const part = readPart(score.value, p.id)
    if (!part.ok) return [sentence(part.problem)]
    const { order } = performed(part.value)
    hardness(part.value, tempo(96))
    proposePassages(part.value)
    const form = formOf(part.value, { measures: order.slice(0, 200) }, tempo(96))
    return form.ok ? [] : [sentence(form.problem)]
  })
}
const oneSentence = (said: string): void => {
  expect(said).toMatch(/^.+ (Try|Type) .+\.$/)
  expect(printable(said)).toBe(said)
}

test('the score itself is read without a problem', () => {
  expect(useAll(bytes(full))).toEqual([])
  expect(must(readScore(bytes(full), 'weir.xml')).parts.length).toBe(2)
})

describe('nothing throws, and what is refused gets one sentence', () => {
  test('random bytes', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 400, size: 'max' }),
        fc.constantFrom('', 'PK\u0003\u0004', '<', '\ufeff<a'),
        (b, s) => {
          useAll(Uint8Array.from([...bytes(s), ...b])).forEach(oneSentence)
        },
      ),
      { numRuns: 80 },
    )
  })

  const numbers = [
    '',
    '-1',
    '0',
    '0.5',
    '999999999',
    '1e400',
    'NaN',
    '\u0000',
    '99999999999999999999',
    '１',
    'x',
  ]
  const tags = [...new Set(full.match(/<[a-z-]+/g))].map(t => t.slice(1))

  test('numbers and texts of a score changed', () => {
    const places = [...full.matchAll(/>[^<>]+<|="[^"]*"/g)]
    let read = 0
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(places.length - 1), fc.constantFrom(...numbers)), {
          minLength: 1,
          maxLength: 6,
        }),
        changes => {
          let text = full
          for (const [i, value] of changes.sort((a, b) => b[0] - a[0])) {
            const m = places[i] as RegExpMatchArray & { index: number }
            const quoted = m[0].startsWith('=') ? `="${value}"` : `>${value}<`
            text = text.slice(0, m.index) + quoted + text.slice(m.index + m[0].length)
          }
          const said = useAll(bytes(text))
          said.forEach(oneSentence)
          if (said.length === 0) read++
        },
      ),
      { numRuns: 80 },
    )
    expect(read).toBeGreaterThan(2)
  })

  test('elements of a score renamed, left out, doubled or put elsewhere', () => {
    const elements = [...full.matchAll(/<([a-z-]+)(?: [^>]*)?>[^<]*<\/\1>|<[a-z-]+[^>]*\/>/g)]
    const change = fc.tuple(
      fc.nat(elements.length - 1),
      fc.constantFrom('drop', 'double', 'rename', 'move'),
      fc.constantFrom(...tags),
      fc.nat(elements.length - 1),
    )
    let read = 0
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 5 }), changes => {
        let text = full
        for (const [i, what, tag, other] of changes) {
          const from = elements[i]?.[0] ?? ''
          const to = elements[other]?.[0] ?? ''
          if (what === 'drop') text = text.replace(from, '')
          if (what === 'double') text = text.replace(from, from + from)
          if (what === 'rename')
            text = text.replace(
              from,
              from.replace(/^<[a-z-]+/, `<${tag}`).replace(/<\/[a-z-]+>$/, `</${tag}>`),
            )
          if (what === 'move') text = text.replace(to, to + from)
        }
        const said = useAll(bytes(text))
        said.forEach(oneSentence)
        if (said.length === 0) read++
      }),
      { numRuns: 80 },
    )
    expect(read).toBeGreaterThan(2)
  })

  test('divisions that have nothing in common', () => {
    const primes = [3, 7, 49_999, 99_991, 199_999, 49_999_991, 99_999_989, 999_999_937]
    const step = fc.tuple(
      fc.constantFrom(...primes),
      fc.constantFrom(note(1), note(1, '<chord/>'), note(2)),
      fc.boolean(),
    )
    let read = 0
    fc.assert(
      fc.property(fc.array(fc.array(step, { maxLength: 4 }), { minLength: 1, maxLength: 4 }), measures => {
        const inside = (steps: readonly (readonly [number, string, boolean])[]) =>
          steps
            .map(([p, n, back]) => {
              const divisions = `<attributes><divisions>${p}</divisions></attributes>`
              return `${divisions}${words('rit.')}${n}${back ? '<backup><duration>1</duration></backup>' : mark('quarter', '50')}`
            })
            .join('')
        const said = useAll(bytes(scoreText(measures.map((m, i) => (i === 0 ? head() : '') + inside(m)))))
        said.forEach(oneSentence)
        if (said.length === 0) read++
      }),
      { numRuns: 80 },
    )
    expect(read).toBeGreaterThan(4)
  })

  test('tempos that are related without end', () => {
    const relation = direction(
      '<metronome><beat-unit>quarter</beat-unit><beat-unit-dot/><beat-unit>quarter</beat-unit></metronome>',
    )
    const back = direction(
      '<metronome><beat-unit>half</beat-unit><beat-unit>half</beat-unit><beat-unit-dot/><beat-unit-dot/></metronome>',
    )
    const text = scoreText([
      head() + mark('quarter', '60') + note(16),
      ...Array(200).fill(relation + note(8) + back + note(8)),
    ])
    expect(useAll(bytes(text))).toEqual([])
  })

  test('bytes of a score changed, plain and compressed', () => {
    const plain = bytes(full)
    const packed = zipSync({ 'weir.musicxml': strToU8(full) })
    const changed = (file: Uint8Array) =>
      fc.array(fc.tuple(fc.nat(file.length - 1), fc.integer({ min: 0, max: 255 })), {
        minLength: 1,
        maxLength: 8,
      })
    for (const file of [plain, packed])
      fc.assert(
        fc.property(changed(file), changes => {
          const copy = file.slice()
          for (const [at, value] of changes) copy[at] = value
          useAll(copy).forEach(oneSentence)
        }),
        { numRuns: 80 },
      )
  })
})

describe('a hostile score is done with in time', () => {
  const one = (inside: string) => scoreText([head() + inside])

  test.each([
    ['many words and marks at one place', one((words('rit.') + mark('quarter', '90')).repeat(6000))],
    ['many slurs that never end', one(note(1, '<notations><slur type="start"/></notations>').repeat(1500))],
    ['many backups', one(`${note(16)}<backup><duration>16</duration></backup>`.repeat(10_000))],
    [
      'many measures with jumps',
      scoreText(Array.from({ length: 6000 }, (_, i) => (i === 0 ? head() : '') + words('D.C.'))),
    ],
    [
      'many endless repeats',
      scoreText(
        Array.from(
          { length: 3000 },
          (_, i) => (i === 0 ? head() : '') + note(4) + backward(' times="1000000"'),
        ),
      ),
    ],
  ])('%s', (_, text) => {
    expect(cpuMs(() => useAll(bytes(text)).forEach(oneSentence))).toBeLessThan(4000)
  })
})

import { mkdirSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import fc from 'fast-check'
import type { Body, Event } from '../../src/ladder/event.ts'
import { localDay } from '../../src/music/day.ts'
import { tempo } from '../../src/music/tempo.ts'
import type { Home } from '../../src/store/home.ts'
import { journalFolder } from '../../src/store/journal.ts'
import { recordId } from '../../src/store/log.ts'
import { encode } from '../../src/store/record.ts'
import { happening } from './scene.ts'
import { opening } from './visit.ts'

/** Journals of several machines as texts by file name, as they could lie in one folder after a long time. */
export type Files = Readonly<Record<string, string>>

const TEMPOS = [92, 92, 92, 96, 100]

/** Mostly what leads somewhere: clean repetitions on the rungs of the opening. */
const usual: fc.Arbitrary<Body> = fc
  .record({
    rep: fc.nat(40),
    at: fc.constantFrom(...TEMPOS),
    clean: fc.constantFrom(true, true, true, false),
    place: fc.constantFrom(null, '41.1', '43.2', '43+3/16'),
    air: fc.constantFrom(null, null, 5.22, 7.5, 12),
  })
  .map(({ rep, at, clean, place, air }) => {
    const stop = clean || place === null ? {} : { place }
    const long = clean && air !== null ? { air } : {}
    return { kind: 'verdict', rep, tempo: tempo(at), whole: !('place' in stop), clean, ...stop, ...long }
  })

const body = fc.oneof({ weight: 6, arbitrary: usual }, { weight: 1, arbitrary: happening })

/** One start of the program: its visits with their keys, and a clock that may be wrong and run backward. */
const session = fc.record({
  machine: fc.constantFrom('desk0001', 'lap00001'),
  offset: fc.constantFrom(60, 60, -480, 845),
  from: fc.integer({ min: Date.UTC(2031, 0, 20), max: Date.UTC(2031, 3, 1) }),
  pace: fc.constantFrom(20_000, 20_000, 400_000, -1000),
  visits: fc.array(
    fc.record({
      key: fc.constantFrom(
        'section p0000001 even',
        'section p0000002 even',
        'quick 4/4 x2 none quarter even',
      ),
      bodies: fc.array(body, { maxLength: 14, size: 'max' }),
    }),
    { minLength: 1, maxLength: 3 },
  ),
})

/** The events of one session: numbers without gaps, a time for each append. */
const eventsOf = (
  name: string,
  { offset, from, pace, visits }: typeof session extends fc.Arbitrary<infer T> ? T : never,
): readonly (readonly Event[])[] => {
  let n = 0
  return visits.map(v => {
    const visit = recordId(name, n + 1)
    return [opening(v.key), ...v.bodies].map(b => {
      n++
      const time = new Date(from + n * pace).toISOString()
      return { ...b, id: recordId(name, n), session: name, n, visit, time, offset }
    })
  })
}

export const record = (e: Event): string => `\n${encode(e)}\n`

/** What the program itself would have written: a folder a machine, a file a month. */
export const journals: fc.Arbitrary<Files> = fc.array(session, { minLength: 1, maxLength: 5 }).map(all => {
  const files: Record<string, string> = {}
  for (const [i, s] of all.entries())
    for (const visit of eventsOf(`${s.machine.slice(0, 4)}s${i}`, s)) {
      const day = localDay((visit[0] as Event).time, s.offset)
      const name = `${s.machine}/${day.slice(0, 7)}.jsonl`
      files[name] = (files[name] ?? '') + visit.map(record).join('')
    }
  return files
})

/** What can become of a file on its way from machine to machine, and on a bad disk. */
export type Fate =
  | { readonly kind: 'copy' | 'reversed' | 'gone' }
  | {
      readonly kind: 'cut' | 'cut-copy' | 'tail' | 'tail-copy' | 'changed-copy' | 'rubbish'
      readonly share: number
    }
  | { readonly kind: 'more'; readonly text: string }

/** Not a double of fast-check: nearly all of these are next to nothing. */
export const share = fc.integer({ min: 0, max: 1000 }).map(n => n / 1000)
export const fates: fc.Arbitrary<Fate> = fc.oneof(
  fc.record({ kind: fc.constantFrom('copy' as const, 'reversed' as const, 'gone' as const) }),
  fc.record({
    kind: fc.constantFrom(
      'cut' as const,
      'cut-copy' as const,
      'tail' as const,
      'tail-copy' as const,
      'changed-copy' as const,
      'rubbish' as const,
    ),
    share,
  }),
  journals.map(more => ({ kind: 'more' as const, text: Object.values(more)[0] ?? '' })),
)

/** The files after something happened to one of them. */
export const after = (files: Files, which: number, fate: Fate): Files => {
  const names = Object.keys(files)
  const name = names[which % names.length]
  if (name === undefined) return files
  const text = files[name] ?? ''
  const copy = name.replace('.jsonl', ` (from the ${fate.kind} of the other machine).jsonl`)
  switch (fate.kind) {
    case 'gone':
      return Object.fromEntries(Object.entries(files).filter(([n]) => n !== name))
    case 'copy':
      return { ...files, [copy]: text }
    case 'reversed':
      return { ...files, [copy]: text.split('\n').reverse().join('\n') }
    case 'more':
      return { ...files, [name]: text + fate.text }
    case 'cut':
      return { ...files, [name]: text.slice(0, fate.share * text.length) }
    case 'tail':
      return { ...files, [name]: text.slice(fate.share * text.length) }
    case 'cut-copy':
      return { ...files, [copy]: text.slice(0, fate.share * text.length) }
    case 'tail-copy':
      return { ...files, [copy]: text.slice(fate.share * text.length) }
    case 'changed-copy': {
      // Damage that still reads as a line: a repetition that was clean no longer is.
      const at = text.indexOf('"clean":true', fate.share * text.length)
      return at < 0 ? files : { ...files, [copy]: `${text.slice(0, at)}"clean":false${text.slice(at + 12)}` }
    }
    case 'rubbish': {
      const at = Math.floor(fate.share * text.length)
      return { ...files, [name]: `${text.slice(0, at)}\0\0{"v":1,${text.slice(at)}` }
    }
  }
}

/** Puts the files into a home's journal folder. */
export const lay = (home: Home, files: Files): void => {
  for (const [name, text] of Object.entries(files)) {
    const path = join(journalFolder(home), name)
    mkdirSync(dirname(path), { recursive: true })
    writeFileSync(path, text)
  }
}

import { ok, problem, type Result } from '../music/result.ts'
import { MAX_PARTS, MAX_XML_BYTES } from './limits.ts'
import { findMovements } from './movements.ts'
import { type MeasureReader, measureReader } from './read-measures.ts'
import type { Score, ScorePart, WrittenNotes } from './score.ts'
import { clean, decodeXml, type Remarks, remarks } from './text.ts'
import { attr, child, childrenOf, type Element, parseXml, type Taker, textOf } from './xml.ts'
import { type Archive, isZip, openZip } from './zip.ts'

/** Elements that tell nothing about practice: looks, words of songs, chord symbols, playback of instruments. */
const NOT_READ: ReadonlySet<string> = new Set([
  'print',
  'defaults',
  'lyric',
  'stem',
  'beam',
  'notehead',
  'accidental',
  'harmony',
  'figured-bass',
  'clef',
  'staff-details',
  'measure-style',
  'technical',
  'ornaments',
  'dynamics',
  'midi-device',
  'midi-instrument',
  'score-instrument',
  'miscellaneous',
  'type',
  'dot',
  'time-modification',
  'tuplet',
  'instrument',
  'wedge',
  'pedal',
  'octave-shift',
  'dashes',
  'bracket',
  'arpeggiate',
  'glissando',
  'slide',
  'staccato',
  'accent',
  'tenuto',
  'strong-accent',
  'staccatissimo',
  'detached-legato',
  'appearance',
  'page-layout',
  'system-layout',
  'encoding',
])
/** Of a part that nobody asked for, only what stands for all is read. */
const SKIMMED: ReadonlySet<string> = new Set([
  ...NOT_READ,
  'pitch',
  'unpitched',
  'tie',
  'tied',
  'slur',
  'cue',
  'staff',
])

/**
 * A MusicXML score, plain or compressed, from the bytes of its file; `name` is what problems call it.
 * Nothing is fetched, no path of the file is followed, and nothing throws: a file that cannot be read gives one
 * problem that says what was found, where, and what is accepted.
 */
export const readScore = (bytes: Uint8Array, name: string): Result<Score> => {
  const file = clean(name) || 'the score'
  const text = textIn(bytes, file)
  if (!text.ok) return text
  const bodies = bodiesOf(text.value)
  const root = parseXml(text.value, file, { skip: SKIMMED, taken: { depth: 3, by: bodies.take } })
  return root.ok ? scoreOf(root.value, bodies, file) : root
}

const textIn = (bytes: Uint8Array, file: string): Result<string> => {
  const xml = isZip(bytes) ? unpacked(bytes, file) : ok(bytes)
  if (!xml.ok) return xml
  if (xml.value.length > MAX_XML_BYTES)
    return problem(file, `${xml.value.length} bytes of XML`, `at most ${MAX_XML_BYTES}`)
  return decodeXml(xml.value, file)
}

const MUSIC: ReadonlySet<string> = new Set([...NOT_READ, 'part', 'measure'])

/** Only the title of such a file. */
export const titleIn = (bytes: Uint8Array, name: string): Result<string> => {
  const text = textIn(bytes, name)
  if (!text.ok) return text
  const root = parseXml(text.value, name, { skip: MUSIC })
  return root.ok ? ok(titleOf(root.value)) : root
}

const unpacked = (bytes: Uint8Array, file: string): Result<Uint8Array> => {
  const archive = openZip(bytes, file)
  if (!archive.ok) return archive
  const path = rootFile(archive.value, file)
  return path.ok ? archive.value.read(path.value) : path
}

const CONTAINER = 'META-INF/container.xml'

/** The first root file is the score (MusicXML 4.0, compressed files); without a container the only XML file is. */
const rootFile = (archive: Archive, file: string): Result<string> => {
  const scores = archive.names.filter(n => /\.(xml|musicxml)$/i.test(n) && !n.startsWith('META-INF/'))
  const [only] = scores
  if (!archive.names.includes(CONTAINER))
    return only !== undefined && scores.length === 1
      ? ok(only)
      : problem(
          `${file}, ${CONTAINER}`,
          `none, and ${scores.length} XML files`,
          'a list that names the score',
        )
  const bytes = archive.read(CONTAINER)
  if (!bytes.ok) return bytes
  const text = decodeXml(bytes.value, `${file}, ${CONTAINER}`)
  if (!text.ok) return text
  const root = parseXml(text.value, `${file}, ${CONTAINER}`)
  if (!root.ok) return root
  const list = child(root.value, 'rootfiles')
  const path = list && childrenOf(list, 'rootfile').map(f => attr(f, 'full-path'))[0]
  if (!path)
    return problem(`${file}, ${CONTAINER}`, 'no rootfile', 'a rootfile with the full-path of the score')
  // Names with accents may be written in another way in the list of files.
  return ok(!archive.names.includes(path) && only !== undefined && scores.length === 1 ? only : path)
}

/** A part as it is gathered, measure by measure. */
type Body = {
  readonly id: string | undefined
  readonly remarks: Remarks
  readonly reader: MeasureReader
  /** Where its measures stand in the file. */
  readonly places: { readonly from: number; readonly to: number }[]
}

type Bodies = {
  /** Reads a measure of a part, so that nobody has to keep it. */
  readonly take: Taker
  /** The parts of a score written part by part, or measure by measure. */
  readonly of: (root: Element, file: string) => Result<readonly Body[]>
  /** The notes of a part, from its measures alone. */
  readonly notes: (body: Body) => readonly WrittenNotes[]
}

const bodiesOf = (text: string): Bodies => {
  const byElement = new Map<Element, Body>()
  const byId = new Map<string, Body>()
  const body = (id: string | undefined): Body => {
    const own = remarks()
    return { id, remarks: own, reader: measureReader(own, false), places: [] }
  }
  const bodyIn = <K>(bodies: Map<K, Body>, key: K, id: string | undefined): Body | null => {
    const there = bodies.get(key)
    if (there || bodies.size > MAX_PARTS) return there ?? null
    const made = body(id)
    bodies.set(key, made)
    return made
  }
  return {
    take: (el, parent, from, to) => {
      const byPart = parent.name === 'part' && el.name === 'measure'
      if (!byPart && !(parent.name === 'measure' && el.name === 'part')) return false
      const id = attr(byPart ? parent : el, 'id')
      const body = byPart ? bodyIn(byElement, parent, id) : bodyIn(byId, id ?? '', id || undefined)
      body?.reader.add(byPart ? el : { ...parent, children: el.children })
      body?.places.push({ from, to })
      return true
    },
    notes: ({ places }) => {
      const reader = measureReader(remarks(), true)
      const inside = places.map(({ from, to }) => text.slice(from, to)).join('')
      const by: Taker = el => {
        reader.add(el)
        return true
      }
      parseXml(`<part>${inside}</part>`, 'part', { skip: NOT_READ, taken: { depth: 2, by } })
      return reader.notes()
    },
    of: (root, file) => {
      if (root.name === 'score-partwise')
        return ok(childrenOf(root, 'part').map(p => byElement.get(p) ?? body(attr(p, 'id'))))
      if (root.name === 'score-timewise') return ok([...byId.values()])
      return problem(`${file}, root element`, clean(root.name), 'score-partwise or score-timewise')
    },
  }
}

const scoreOf = (root: Element, { of, notes: notesOf }: Bodies, file: string): Result<Score> => {
  const found = of(root, file)
  if (!found.ok) return found
  const bodies = found.value
  if (bodies.length === 0) return problem(file, 'no part', 'a score with at least one part')
  if (bodies.length > MAX_PARTS) return problem(file, `${bodies.length} parts`, `at most ${MAX_PARTS}`)
  const notes = remarks()
  const list = child(root, 'part-list')
  const declared = list ? childrenOf(list, 'score-part') : []
  const names = new Map(declared.map(p => [clean(attr(p, 'id') ?? ''), textOf(p, 'part-name')]))
  const used = new Set<string>()
  const parts = bodies.map((body, i): ScorePart => {
    const { id, remarks: mine, reader } = body
    const own = identify(clean(id ?? ''), i, used, declared, notes)
    let read: readonly WrittenNotes[] | null = null
    return {
      id: own,
      name: names.get(own) || own,
      written: reader.all(`${file}, part ${own}`),
      notes: () => {
        read ??= notesOf(body)
        return read
      },
      warnings: mine.all(),
    }
  })
  for (const id of names.keys()) if (!used.has(id)) notes.add(`part ${id} is listed but holds no music`)
  return ok({
    title: titleOf(root) || withoutEnding(file),
    parts,
    movements: findMovements(parts.flatMap(p => (p.written.ok ? [p.written.value] : []))),
    warnings: notes.all(),
  })
}

/** A part's id as the list of parts knows it; one that is missing or there twice gets a name of its own. */
const identify = (
  id: string,
  index: number,
  used: Set<string>,
  declared: readonly Element[],
  notes: Remarks,
): string => {
  const ids = declared.map(p => clean(attr(p, 'id') ?? ''))
  let own = id || ids[index] || `part ${index + 1}`
  if (id === '') notes.add(`a part without an id is taken as ${own}`)
  else if (!ids.includes(id)) notes.add(`part ${id} is not in the list of parts`)
  if (used.has(own)) {
    notes.add(`part ${own} is there twice`)
    while (used.has(own)) own = `${own}+`
  }
  used.add(own)
  return own
}

const titleOf = (root: Element): string => {
  const work = child(root, 'work')
  const title = (work && textOf(work, 'work-title')) || ''
  const movement = textOf(root, 'movement-title')
  if (title !== '' && movement !== '' && title !== movement) return clean(`${title}: ${movement}`)
  const credit = child(root, 'credit')
  return title || movement || (credit ? textOf(credit, 'credit-words') : '')
}

const withoutEnding = (file: string): string => file.replace(/\.(musicxml|xml|mxl)$/i, '')

import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate'
import { describe, expect, test } from 'vitest'
import { importScore } from '../../src/commands/import-score.ts'
import { printable, sentence } from '../../src/music/result.ts'
import { tempo } from '../../src/music/tempo.ts'
import {
  backward,
  bytes,
  direction,
  head,
  mark,
  note,
  scoreText,
  time,
  words,
} from '../exchange/musicxml/scores.ts'
import { player } from './typed.ts'

const breath = '<notations><articulations><breath-mark/></articulations></notations>'
const caesura = '<notations><articulations><caesura/></articulations></notations>'
const fermata = '<notations><fermata/></notations>'

/** Eight measures with everything that is kept: a pick-up, a change of meter, a ritardando, breaths and holds. */
const flute = [
  { attrs: 'number="0" implicit="yes"', inside: `${head('3', 4)}${mark('quarter', '96')}${note(4)}` },
  { attrs: 'number="1"', inside: note(8) + note(4, breath) },
  { attrs: 'number="2"', inside: `${direction('<rehearsal>A</rehearsal>')}${note(12, '', 'Bb4')}` },
  { attrs: 'number="3"', inside: words('rit.') + note(12, caesura) },
  {
    attrs: 'number="4"',
    inside: `<attributes>${time('3+2', 8)}</attributes>${mark('quarter', '72')}${note(10)}`,
  },
  { attrs: 'number="5"', inside: note(10, '<tie type="start"/>', 'F#5') },
  { attrs: 'number="6"', inside: note(4, '<tie type="stop"/>', 'F#5') + note(6, fermata) + backward() },
]
const oboe = flute.map((m, i) => (i === 0 ? m : { ...m, inside: m.inside.replaceAll('<step>C', '<step>A') }))

const folder = () => {
  const who = player()
  const put = (name: string, content: string | Uint8Array): string => {
    const dir = join(who.home, 'scores')
    mkdirSync(dir, { recursive: true })
    writeFileSync(join(dir, name), content)
    return join(dir, name)
  }
  const pieces = (): Readonly<Record<string, string>> => {
    const dir = join(who.home, 'data', 'pieces')
    const names = existsSync(dir) ? readdirSync(dir).filter(n => n.endsWith('.json')) : []
    return Object.fromEntries(names.map(n => [n, readFileSync(join(dir, n), 'utf8')]))
  }
  return { ...who, put, pieces, weir: put('weir.musicxml', scoreText(flute, oboe)) }
}
const WEIR = 'Weir Street Overture'
const P1 = ['--part', 'flute 1']

describe('a part of a score', () => {
  test('becomes one passage with all that practice needs', async () => {
    const { type, json, weir } = folder()
    const said = await type('piece', 'import', weir, ...P1, '--ready-by', '2031-03-28')
    expect(said).toMatchObject({ status: 0, err: '' })
    expect(said.out).toContain(`${WEIR}, Flute 1`)
    expect(said.out).toContain('whole part, m. 1-6: 6 measures of 3/4, pick-up quarter, goal quarter = 96')
    expect(said.out).toContain(
      'weir.musicxml: repeats and jumps are not played out: 7 measures as written, 14 as',
    )
    expect(await json('piece', 'show', WEIR)).toMatchObject({
      sure: 'printed',
      passages: [
        {
          name: 'whole part',
          place: '1-6',
          measures: 6,
          meter: '3/4',
          pickup: 'quarter',
          goal: '96',
          readyBy: '2031-03-28',
          numbers: ['0', '1', '2', '3', '4', '5', '6'],
          changes: [{ at: '4', meter: '3+2/8' }],
          tempos: [
            { at: '0.3', tempo: '96' },
            { at: '3', tempo: '96', ramp: true },
            { at: '4', tempo: '72' },
          ],
          breaths: [
            { at: '2', kind: 'breath' },
            { at: '4', kind: 'caesura' },
            { at: 'end', kind: 'fermata' },
          ],
          rehearsals: [{ at: '2', text: 'A' }],
          notes: 8,
        },
      ],
    })
  })

  test('keeps its notes as written, tied ones as one', async () => {
    const { type, pieces, weir } = folder()
    await type('piece', 'import', weir, ...P1)
    const [text = ''] = Object.values(pieces())
    expect(JSON.parse(text).passages[0].notes).toEqual([
      '0 1/4 C5',
      '1/4 1/2 C5',
      '3/4 1/4 C5',
      '1 3/4 Bb4',
      '7/4 3/4 C5',
      '5/2 5/8 C5',
      '25/8 7/8 F#5',
      '4 3/8 C5',
    ])
  })

  test('can be practiced and clicks', async () => {
    const { type, home, weir } = folder()
    await type('piece', 'import', weir, ...P1)
    const out = join(home, 'weir.mid')
    expect(await type('render', `${WEIR}/whole part`, '--tempo', '96', '--out', out)).toMatchObject({
      status: 0,
    })
    expect(statSync(out).size).toBeGreaterThan(100)
  })

  test('can be some measures only, at a goal of the player', async () => {
    const { type, json, weir } = folder()
    const said = await type('piece', 'import', weir, ...P1, '--from', '3', '--to', '5', '--goal', '110')
    expect(said.status).toBe(0)
    expect(await json('piece', 'show', WEIR)).toMatchObject({
      sure: null,
      passages: [
        {
          name: '3-5',
          measures: 3,
          goal: '110',
          tempos: [
            { at: '3', tempo: '96', ramp: true },
            { at: '4', tempo: '72' },
          ],
        },
      ],
    })
  })

  test('brings its hardest passages, each with its reason and sections', async () => {
    const run = (n: number) =>
      Array.from({ length: 16 }, (_, i) => note(1, '', `${'CDEFGAB'[(i * n) % 7]}5`)).join('')
    const easy = note(16)
    const part = [
      head() + mark('quarter', '100') + easy,
      easy,
      easy,
      run(3),
      run(4),
      run(5),
      run(6),
      easy,
      easy,
      easy,
    ]
    const { type, json, put } = folder()
    const file = put('run.xml', scoreText(part))
    expect(await type('piece', 'import', file, '--passages', '--goal', '80')).toMatchObject({
      status: 0,
      err: '',
    })
    const { passages } = await json('piece', 'show', WEIR)
    expect(passages.map((p: { name: string }) => p.name)).toEqual(['whole part', '4-7'])
    expect(passages[1]).toMatchObject({ goal: '80', note: expect.stringMatching(/up to 6.7 notes a second/) })
    expect(passages[1].sections.length).toBeGreaterThan(1)
  })

  test('is guessed, not printed, where only playback has a tempo; without any a goal is asked for', async () => {
    const { type, json, put } = folder()
    const silent = put('a.xml', scoreText([head() + note(16)]))
    const played = put('b.xml', scoreText([`${head()}<sound tempo="80"/>${note(16)}`]))
    expect((await type('piece', 'import', silent)).err).toMatch(
      /goal tempo: nothing was given; accepted: a goal with --goal/,
    )
    expect((await type('piece', 'import', silent, '--goal', '66')).status).toBe(0)
    expect((await type('piece', 'import', played, '--title', 'Reed')).status).toBe(0)
    expect((await json('piece', 'show', 'Reed')).sure).toBe('guess')
  })
})

describe('a second import', () => {
  test('of the same part adds nothing and says so', async () => {
    const { type, pieces, weir } = folder()
    await type('piece', 'import', weir, ...P1)
    const before = pieces()
    const said = await type('piece', 'import', weir, ...P1)
    expect(said).toMatchObject({ status: 0, err: '' })
    expect(said.out).toMatch(/is in the repertoire already: nothing was added, what was practiced stays/)
    expect(pieces()).toEqual(before)
  })

  test('with --again adds only music that is not there yet, and keeps ids', async () => {
    const { type, json, weir } = folder()
    await type('piece', 'import', weir, ...P1)
    const [{ id }] = (await json('piece', 'show', WEIR)).passages
    expect((await type('piece', 'import', weir, ...P1, '--again')).out).toMatch(
      /1 passage was there already.*\n.*Nothing was added/,
    )
    await type('piece', 'import', weir, ...P1, '--again', '--from', '4')
    const { passages } = await json('piece', 'show', WEIR)
    expect(passages.map((p: { name: string }) => p.name)).toEqual(['whole part', '4-6'])
    expect(passages[0].id).toBe(id)
  })
})

describe('what cannot be used is said in one sentence, and the repertoire stays as it was', () => {
  test.each([
    [['--goal', '0'], /goal tempo: "0" .* 1 to 999/],
    [['--goal', 'fast', ...P1], /goal tempo: "fast"/],
    [['--ready-by', '2031-03-01', ...P1], /ready by: "2031-03-01" .* not past/],
    [['--ready-by', 'soon', ...P1], /ready by: "soon"/],
    [['--title', '   ', ...P1], /title: nothing was given/],
    [['--title', 'x'.repeat(121), ...P1], /title: .* at most 120/],
    [['--part', 'Tuba'], /part: "Tuba" .* one of P1 \(Flute 1\), P2 \(Flute 2\)/],
    [[], /part: nothing was given; accepted: --part with one of P1 \(Flute 1\), P2 \(Flute 2\)/],
    [['--from', '9', ...P1], /--from: "9" .* from 0 to 6/],
    [['--from', '3', '--to', '2', ...P1], /--to: "2" .* from 3 to 6/],
    [['--whole', '--passages', ...P1], /measures: "--whole with --passages"/],
    [['--passages', '--to', '2', ...P1], /one of --whole, --passages/],
  ])('%j', async (options, expected) => {
    const { weir, type, pieces } = folder()
    const said = await type('piece', 'import', weir, ...options)
    expect(said).toMatchObject({ status: 2, out: '' })
    expect(said.err).toMatch(expected)
    expect(said.err.trim().split('\n').length).toBe(1)
    expect(pieces()).toEqual({})
  })

  test.each([
    ['a file that is not there', 'none.xml', null, /none.xml" .* a file that is there/],
    ['another kind of file', 'weir.pdf', 'x', /ending in .musicxml, .xml, .mxl or .json/],
    ['no score', 'a.xml', 'Weir', /a.xml, line 1: "Weir" .* well-formed XML/],
    ['a score cut off', 'a.xml', scoreText(flute).slice(0, -60), /a.xml: "a file that ends too early"/],
    ['a broken archive', 'a.mxl', 'PK\u0003\u0004', /a.mxl/],
    [
      'a bad duration',
      'a.xml',
      scoreText([head() + mark('quarter', '96') + note(-4)]),
      /part P1, measure 1, duration of a note: "-4"/,
    ],
    ['no JSON', 'a.json', '{', /a.json, file: "\{" .* a piece written as JSON/],
    ['JSON of another kind', 'a.json', '{"v":1}', /a.json, id: /],
    [
      'a tempo out of range',
      'a.json',
      '{"v":1,"id":"weir1","title":"Weir","passages":[{"id":"p123","name":"a","meter":"4/4","count":1,"pickup":null,"goal":"9999"}]}',
      /a.json, passage 1, goal: "9999"/,
    ],
    ['a piece from a newer version', 'a.json', '{"v":2}', /newer Gradino/],
  ])('%s', async (_, name, content, expected) => {
    const { home, put, type, pieces } = folder()
    const file = content === null ? join(home, name) : put(name, content)
    const said = await type('piece', 'import', file)
    expect(said).toMatchObject({ status: 2, out: '' })
    expect(said.err).toMatch(expected)
    expect(pieces()).toEqual({})
  })
})

test('a title never becomes a path, and no control character of a file reaches the terminal', async () => {
  const { type, home, put, pieces } = folder()
  const title = '../../x&#x9b;31m&#27;]0;y&#7;\u001b[2J&#x202e;'
  const text = scoreText(flute)
    .replace(WEIR, title)
    .replace('Flute 1', 'Flute\u001b[31m 1')
    .replace('<rehearsal>A', '<rehearsal>\u001b[1mA')
    .replace('number="3"', 'number="\u001b[3m"')
  const file = put('x\u001b[2J.xml', text)
  const all = [
    await type('piece', 'import', file),
    await type('piece', 'show', '..'),
    await type('--json', 'piece', 'show', '..'),
    await type('pieces'),
    await type('piece', 'import', file, '--part', '\u001b[31m'),
  ]
  for (const { out, err } of all)
    expect(printable((out + err).replaceAll('\n', ''))).toBe((out + err).replaceAll('\n', ''))
  expect(all[0]?.status).toBe(0)
  expect(Object.keys(pieces())).toEqual([expect.stringMatching(/^x[a-z0-9-]*-[a-z0-9]{8}\.json$/)])
  expect(readdirSync(home).sort()).toEqual(
    ['config', 'data', 'scores'].filter(n => existsSync(join(home, n))),
  )
})

describe('a piece to share', () => {
  const exported = async () => {
    const who = folder()
    await who.type('piece', 'import', who.weir, ...P1)
    const file = join(who.home, 'weir.json')
    return { ...who, file, said: await who.type('piece', 'export', WEIR, file) }
  }

  test('is one readable file that another player can import', async () => {
    const { file, said, json } = await exported()
    expect(said).toMatchObject({ status: 0, err: '' })
    const other = folder()
    expect(await other.type('piece', 'import', file)).toMatchObject({ status: 0, err: '' })
    expect((await other.json('piece', 'show', WEIR)).passages).toEqual(
      (await json('piece', 'show', WEIR)).passages,
    )
  })

  test('goes over no file unless that is said, and leaves no other behind', async () => {
    const { file, home, type } = await exported()
    writeFileSync(file, 'mine')
    expect((await type('piece', 'export', WEIR, file)).err).toMatch(
      /weir.json" .* no file has yet, or --force/,
    )
    expect(readFileSync(file, 'utf8')).toBe('mine')
    expect(await type('piece', 'export', WEIR, file, '--force')).toMatchObject({ status: 0 })
    expect(JSON.parse(readFileSync(file, 'utf8')).title).toBe(WEIR)
    expect((await type('piece', 'export', WEIR, join(home, 'weir.xml'))).err).toMatch(/ending in .json/)
    expect((await type('piece', 'export', 'Reed', file)).status).toBe(2)
    expect((await type('piece', 'export', WEIR, join(home, 'none', 'a.json'))).status).toBe(1)
    expect(readdirSync(home).filter(n => n.includes('tmp'))).toEqual([])
  })

  test('that is there already is not added again; changed and under another title it gets ids of its own', async () => {
    const { file, type, json, pieces } = await exported()
    const before = pieces()
    expect((await type('piece', 'import', file)).out).toMatch(/nothing was added/)
    writeFileSync(file, readFileSync(file, 'utf8').replace('"goal": "96"', '"goal": "90"'))
    expect((await type('piece', 'import', file)).out).toMatch(/nothing was added.*--again.*--title/)
    expect(pieces()).toEqual(before)
    expect((await type('piece', 'import', file, '--title', 'Reed')).status).toBe(0)
    const [weir, reed] = [await json('piece', 'show', WEIR), await json('piece', 'show', 'Reed')]
    expect(reed.passages[0]).toMatchObject({ goal: '90', measures: 6 })
    expect([weir.id, weir.passages[0].id]).not.toContain(reed.id)
    expect(reed.passages[0].id).not.toBe(weir.passages[0].id)
  })

  test('is no score', async () => {
    const { file, type } = await exported()
    expect((await type('piece', 'import', file, '--passages')).err).toMatch(
      /--passages: "weir.json" .* a score/,
    )
  })
})

/*
 * Scores by others, read where they lie beside the project: see tests/outside/musicxml.test.ts. What is counted here is
 * the raw XML.
 */
const SCORES = new URL('../../../shared/scores/', import.meta.url)
const listed = (dir: string, ending: RegExp): readonly string[] => {
  const at = new URL(`${dir}/`, SCORES)
  return existsSync(at) ? readdirSync(at).filter(n => ending.test(n)) : []
}
const openscore = listed('openscore', /\.mxl$/)
const suite = listed('musicxml-suite', /\.(xml|musicxml|mxl)$/)
const at = (dir: string, name: string): string => new URL(`${dir}/${name}`, SCORES).pathname

describe.skipIf(openscore.length === 0)('every part of every score of OpenScore', () => {
  test.each(openscore)(
    '%s is imported, and its measures, meters, tempos and breaths are those of its XML',
    async name => {
      const files = unzipSync(readFileSync(at('openscore', name)))
      const inner =
        Object.keys(files).find(n => /\.(xml|musicxml)$/.test(n) && !n.startsWith('META-INF')) ?? ''
      const parts = [
        ...strFromU8(files[inner] ?? new Uint8Array()).matchAll(/<part id="(.*?)">[\s\S]*?<\/part>/g),
      ]
      expect(parts.length).toBeGreaterThan(1)
      for (const [xml, id] of parts) {
        const { type, json } = folder()
        const said = await type(
          'piece',
          'import',
          at('openscore', name),
          '--part',
          id ?? '',
          '--title',
          'Weir',
        )
        expect(said).toMatchObject({ status: 0, err: '' })
        const { passages } = await json('piece', 'show', 'Weir')
        const [p] = passages
        const measures = [...xml.matchAll(/<measure ([^>]*)>([\s\S]*?)<\/measure>/g)]
        // the second half of a divided measure has no number of its own; a pick-up stands at the beginning
        const own = measures.filter(([, attrs], i) => i === 0 || !attrs?.includes('implicit="yes"'))
        expect(p.numbers).toEqual(own.map(([, attrs]) => /number="(.*?)"/.exec(attrs ?? '')?.[1]))
        const meters = own.map(([, , inside]) => {
          const [, beats, unit] = /<beats>(.*?)<\/beats>\s*<beat-type>(.*?)</.exec(inside ?? '') ?? []
          return beats ? `${beats}/${unit}` : ''
        })
        let meter = meters[0] ?? ''
        const changes = meters.flatMap((m, i) => {
          if (m === '' || m === meter) return []
          meter = m
          return [`${p.numbers[i]} ${m}`]
        })
        const read = p.changes.map((c: { at: string; meter: string }) => `${c.at} ${c.meter}`)
        expect([p.meter, ...read]).toEqual([meters[0], ...changes])
        const breaths = [...xml.matchAll(/<breath-mark/g)].length
        const kept = p.breaths.filter((b: { kind: string }) => b.kind === 'breath').length
        // several voices may breathe together, and after the last note nobody does
        const last = /<breath-mark(?![\s\S]*<note[ >])/.test(xml) ? 1 : 0
        if (!xml.includes('<backup>')) expect(kept).toBe(breaths - last)
        else expect(kept).toBeLessThanOrEqual(breaths)
      }
    },
  )

  test('lc6010628: the tempo map turns twelve times between dotted quarter 80 and 72', async () => {
    const { type, json } = folder()
    await type('piece', 'import', at('openscore', 'lc6010628.mxl'), '--part', 'P1', '--title', 'Weir')
    const { sure, passages } = await json('piece', 'show', 'Weir')
    const marks = passages[0].tempos.map((t: { tempo: string }) => t.tempo)
    expect([sure, passages[0].goal]).toEqual(['printed', 'dotted-quarter=80'])
    expect(new Set(marks)).toEqual(new Set(['dotted-quarter=80', 'dotted-quarter=72']))
  })
})

describe.skipIf(suite.length === 0)('every file of the MusicXML test suite', () => {
  test.each(suite)('%s is imported, or refused in one sentence', async name => {
    const { type, pieces } = folder()
    const said = await type(
      'piece',
      'import',
      at('musicxml-suite', name),
      '--part',
      'P1',
      '--goal',
      '96',
      '--title',
      'Weir',
    )
    if (said.status === 0) expect(Object.keys(pieces()).length).toBe(1)
    else {
      expect(said.status).toBe(2)
      expect(said.err).toMatch(/^gradino: .+; accepted: .+\.\n$/)
      expect(pieces()).toEqual({})
    }
  })
})

describe('nothing throws', () => {
  const full = scoreText(flute, oboe)
  const use = (file: Uint8Array, part: string, hard: boolean, goal: number | null): boolean => {
    let n = 0
    const wanted = { part, hard, ...(goal === null ? {} : { goal: tempo(goal) }) }
    const read = importScore(file, 'weir.mxl', wanted, () => `id${1000 + n++}`)
    if (read.ok) return true
    expect(sentence(read.problem)).toMatch(/^.+; accepted: .+\.$/)
    expect(printable(sentence(read.problem))).toBe(sentence(read.problem))
    return false
  }
  const how = fc.tuple(
    fc.constantFrom('P1', 'P2', 'flute 1'),
    fc.boolean(),
    fc.constantFrom(null, 1, 96, 999),
  )

  test('whatever numbers and texts of a score are changed', () => {
    const places = [...full.matchAll(/>[^<>\n]+<|="[^"]*"/g)]
    const value = fc.constantFrom('', '-1', '0', '0.5', '7', '999999999', '1e400', 'NaN', 'end', '12.5', 'x')
    let read = 0
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(places.length - 1), value), { minLength: 1, maxLength: 5 }),
        how,
        (changes, [part, hard, goal]) => {
          let text = full
          for (const [i, v] of [...changes].sort((a, b) => b[0] - a[0])) {
            const m = places[i] as RegExpMatchArray & { index: number }
            const put = m[0].startsWith('=') ? `="${v}"` : `>${v}<`
            text = text.slice(0, m.index) + put + text.slice(m.index + m[0].length)
          }
          if (use(bytes(text), part, hard, goal)) read++
        },
      ),
      { numRuns: 500 },
    )
    expect(read).toBeGreaterThan(50)
  })

  test('whatever bytes are changed, plain or compressed', () => {
    for (const file of [bytes(full), zipSync({ 'weir.musicxml': strToU8(full) })])
      fc.assert(
        fc.property(
          fc.array(fc.tuple(fc.nat(file.length - 1), fc.integer({ min: 0, max: 255 })), {
            minLength: 1,
            maxLength: 6,
          }),
          how,
          (changes, [part, hard, goal]) => {
            const copy = file.slice()
            for (const [i, v] of changes) copy[i] = v
            use(copy, part, hard, goal)
          },
        ),
        { numRuns: 200 },
      )
  })
})

test('a part longer than a passage can be is refused soon, and its measures can be taken in turn', () => {
  const long = scoreText(
    Array.from(
      { length: 12_000 },
      (_, i) => (i === 0 ? head() : '') + mark('quarter', String(60 + (i % 9))) + note(16),
    ),
  )
  const started = performance.now()
  const read = importScore(bytes(long), 'weir.xml', {}, () => 'id1000')
  expect(read.ok ? '' : sentence(read.problem)).toMatch(/passage: "12000 measures" .* at most 999 measures/)
  expect(performance.now() - started).toBeLessThan(15_000)
  expect(importScore(bytes(long), 'weir.xml', { from: '900', to: '1100' }, () => 'id1000').ok).toBe(true)
})

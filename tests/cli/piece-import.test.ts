import { existsSync, readdirSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { printable } from '../../src/music/result.ts'
import { direction, head, mark, note, scoreText } from '../score/scores.ts'
import { flute, folder, P1, WEIR } from './import-scene.ts'

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
            { at: '6+1/4', kind: 'fermata' },
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

  test('its rehearsal marks are places wherever one is typed', async () => {
    const { type, json, weir } = folder()
    await type('piece', 'import', weir, ...P1)
    expect(await type('piece', 'split', `${WEIR}/whole part`, '--at', 'A,A+2')).toMatchObject({
      status: 0,
      err: '',
    })
    const [{ sections }] = (await json('piece', 'show', WEIR)).passages
    expect(sections.map((s: { from: string }) => s.from)).toEqual(['0.3', '2', '4'])
    expect(await type('piece', 'edit', `${WEIR}/whole part`, '--breath', 'A+1.2')).toMatchObject({
      status: 0,
      err: '',
    })
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

  test('brings its hardest passages, each with its reason', async () => {
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
    expect(passages.map((p: { name: string }) => p.name)).toEqual(['4-7'])
    // what was counted is not the player's note
    expect(passages[0]).toMatchObject({ goal: '80', note: null })
    expect((await type('piece', 'show', WEIR)).out).toMatch(/hard: .*notes a second/)
  })

  test('is guessed, not printed, where only playback has a tempo; without any it is open', async () => {
    const { type, json, put } = folder()
    const silent = put('a.xml', scoreText([head() + note(16)]))
    const played = put('b.xml', scoreText([`${head()}<sound tempo="80"/>${note(16)}`]))
    const open = await type('piece', 'import', silent)
    expect(open).toMatchObject({
      status: 0,
      out: expect.stringContaining('goal open (for now quarter = 92)'),
    })
    expect(open.out).toMatch(/has no tempo yet\. After the rehearsal: gradino piece tempo/)
    expect((await json('piece', 'show', WEIR)).sure).toBe('open')
    expect((await type('today')).out).toMatch(/has no tempo yet\. After the rehearsal: gradino piece tempo/)
    await type('piece', 'edit', `${WEIR}/whole`, '--goal', '96')
    expect((await json('piece', 'show', WEIR)).sure).toBe('guess')
    expect((await type('pieces')).out).toContain('goal quarter = 96')
    expect((await type('piece', 'import', silent, '--title', 'Sluice', '--goal', '66')).status).toBe(0)
    expect((await json('piece', 'show', 'Sluice')).sure).toBe(null)
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
    expect(said.out).toMatch(/^You already have .*\. Nothing was added; your history stays/)
    expect(pieces()).toEqual(before)
  })

  test('with --again adds only music that is not there yet, and keeps ids', async () => {
    const { type, json, weir } = folder()
    await type('piece', 'import', weir, ...P1)
    const [{ id }] = (await json('piece', 'show', WEIR)).passages
    expect((await type('piece', 'import', weir, ...P1, '--again')).out).toMatch(
      /You already had 1 passage.*\n.*Nothing was added/,
    )
    await type('piece', 'import', weir, ...P1, '--again', '--from', '4')
    const { passages } = await json('piece', 'show', WEIR)
    expect(passages.map((p: { name: string }) => p.name)).toEqual(['whole part', '4-6'])
    expect(passages[0].id).toBe(id)
  })
})

describe('what cannot be used is said in one sentence, and the repertoire stays as it was', () => {
  test.each([
    [['--goal', '0'], /"0".* for the goal tempo.* 1 to 999/],
    [['--goal', 'fast', ...P1], /"fast".* for the goal tempo/],
    [['--ready-by', '2031-03-01', ...P1], /"2031-03-01" is past\./],
    [['--ready-by', 'soon', ...P1], /"soon".* for ready by/],
    [['--title', '   ', ...P1], /The title is missing/],
    [['--title', 'x'.repeat(121), ...P1], /for the title.* at most 120/],
    [['--part', 'Tuba'], /"Tuba".* for the part.* one of P1 \(Flute 1\), P2 \(Flute 2\)/],
    [[], /This score has 2 parts\. Say which is yours: --part with one of P1 \(Flute 1\), P2 \(Flute 2\)/],
    [['--from', '9', ...P1], /"9".* for --from.* from 0 to 6/],
    [['--from', '3', '--to', '2', ...P1], /"2".* for --to.* after measure 3/],
    [['--whole', '--passages', ...P1], /"--whole with --passages".* for the measures/],
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
    ['a file that is not there', 'none.xml', null, /none.xml is not there\. Check its name and folder/],
    ['another kind of file', 'weir.pdf', 'x', /ending in .musicxml, .xml, .mxl or .json/],
    ['no score', 'a.xml', 'Weir', /In a.xml, line 1, "Weir" .* well-formed XML/],
    ['a score cut off', 'a.xml', scoreText(flute).slice(0, -60), /In a.xml, "a file that ends too early"/],
    ['a broken archive', 'a.mxl', 'PK\u0003\u0004', /a.mxl/],
    [
      'a bad duration',
      'a.xml',
      scoreText([head() + mark('quarter', '96') + note(-4)]),
      /In a.xml, part P1, measure 1, duration of a note "-4"/,
    ],
    ['no JSON', 'a.json', '{', /In a.json, file "\{" .* a piece written as JSON/],
    ['JSON of another kind', 'a.json', '{"v":1}', /In a.json, id is missing/],
    [
      'a tempo out of range',
      'a.json',
      '{"v":1,"id":"weir1","title":"Weir","passages":[{"id":"p123","name":"a","meter":"4/4","count":1,"pickup":null,"goal":"9999"}]}',
      /In a.json, passage 1, goal "9999"/,
    ],
    ['a piece from a newer version', 'a.json', '{"v":3}', /newer Gradino/],
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

describe('a long part', () => {
  const measures = (count: number, more: (i: number) => string = () => '') =>
    Array.from({ length: count }, (_, i) =>
      i === 20 || i === 21
        ? Array.from({ length: 16 }, (_, k) => note(1, '', `${'CDEF'[k % 4]}5`)).join('') + more(i)
        : (i === 0 ? head() + mark('quarter', '100') : '') + more(i) + note(16),
    )

  test('is in no plan as a whole before it is cut or played; the next command opens the first proposal', async () => {
    const { type, json, put } = folder()
    const said = await type('piece', 'import', put('long.xml', scoreText(measures(60))))
    expect(said.out).toMatch(/To practice: gradino practice "Weir Street Overture\/21-22"/)
    const { items } = await json('today')
    const wholes = (items as { kind: string }[]).filter(i => JSON.stringify(i).includes('whole part'))
    expect(wholes).toEqual([])
    await type('piece', 'import', put('long.xml', scoreText(measures(60))), '--whole', '--title', 'Sluice')
    await type('piece', 'remove', WEIR)
    const today = (await type('today')).out
    expect(today).toContain('Sluice is a whole part. Cut it: gradino piece split "Sluice/whole part"')
    expect(today).not.toMatch(/one run|ready/)
    await type('piece', 'remove', 'Sluice')
    await type('piece', 'import', put('long.xml', scoreText(measures(60))))
    expect((await json('piece', 'show', WEIR)).passages.map((p: { name: string }) => p.name)).toContain(
      'whole part',
    )
  })

  test('is taken from one rehearsal mark to the next, or so many measures after one', async () => {
    const { type, json, put } = folder()
    const marks = (i: number) =>
      i === 9 || i === 29 ? direction(`<rehearsal>${i === 9 ? 'A' : 'B'}</rehearsal>`) : ''
    const file = put('long.xml', scoreText(measures(60, marks)))
    await type('piece', 'import', file, '--from', 'A', '--to', 'B')
    await type('piece', 'import', file, '--from', 'A+4', '--to', 'B', '--again')
    const { passages } = await json('piece', 'show', WEIR)
    expect(passages.map((p: { place: string }) => p.place)).toEqual(['10-29', '14-29'])
    expect((await type('piece', 'import', file, '--from', 'Q')).err).toMatch(/rehearsal mark: A B/)
  })
})

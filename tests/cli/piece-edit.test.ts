import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { pieceFile } from '../../src/repertoire/piece.ts'
import { about } from '../music/about.ts'
import { atTheWeir, climb, RUN, WEIR } from './weir.ts'

const oneSentence = (said: { status: number; out: string; err: string }): string => {
  expect(said).toMatchObject({ status: 2, out: '' })
  expect(said.err).toMatch(/^gradino: .*\.\n$/)
  expect(said.err.trim()).not.toContain('\n')
  return said.err
}

describe('a passage edited by options', () => {
  test('has every field as typed, each told with what it was', async () => {
    const { edit, passage } = await atTheWeir()
    const said = await edit(`--name "over the weir" --in 41-46 --meter 2+2+3/8 --pickup eighth --start 60
      --goal 120 --goal-top 126 --run 16th --matters must --pulse quarter
      --ready-by 2031-04-02 --note "crescendo into 43"`)
    expect(said).toMatchObject({ status: 0, err: '' })
    expect(said.out).toContain('goal tempo: 120 (was 138)')
    expect(said.out).toContain('measures: 6 (was 4)')
    expect(said.out).toContain('pick-up: eighth (was none)')
    expect(await passage()).toMatchObject({
      name: 'over the weir',
      place: '41-46',
      measures: 6,
      meter: '7/8',
      pickup: 'eighth',
      start: '60',
      goal: '120',
      readyBy: '2031-04-02',
      note: 'crescendo into 43',
    })
  })

  test('an optional field is taken out by none, or by an empty text', async () => {
    const { edit, passage } = await atTheWeir()
    await edit('--note', 'quick', '--pickup', 'eighth', '--ready-by', '2031-04-02')
    await edit('--note', '', '--pickup', 'none', '--ready-by', 'none', '--start', 'none')
    expect(await passage()).toMatchObject({ note: null, pickup: null, readyBy: null, start: null })
  })

  test('breaths and marks go in and out by their places, however these are written, in the order of the music', async () => {
    const { edit, passage } = await atTheWeir()
    await edit(`--breath "43 slow below=dotted-quarter=64" --breath 42.4
      --breath "44.3 caesura adds=half waits"`)
    await edit('--breath', '44 bow word=tip of the bow', '--breath', '43 slow below=90 adds=eighth')
    expect((await passage()).breaths).toEqual([
      { at: '42.4', kind: 'breath' },
      { at: '43', kind: 'slow-breath', adds: 'eighth', below: '90' },
      { at: '44', kind: 'bow', word: 'tip of the bow' },
      { at: '44.3', kind: 'caesura', adds: 'half', waits: true },
    ])
    await edit('--no-breath', '42+3/4', '--no-breath', '44')
    expect((await passage()).breaths.map((b: { at: string }) => b.at)).toEqual(['43', '44.3'])
    await edit('--no-breath', 'all')
    expect((await passage()).breaths).toEqual([])
  })

  test('a ramp begins at the tempo that runs there and leads to the next mark; the goal is the first tempo', async () => {
    const { edit, passage } = await atTheWeir()
    await edit('--tempo-mark', '44=half=66', '--ramp', '43.3')
    expect((await passage()).tempos).toEqual([
      { at: '41', tempo: '138' },
      { at: '43.3', tempo: '138', ramp: true },
      { at: '44', tempo: 'half=66' },
    ])
    await edit('--ramp', '43.3=120', '--tempo-mark', '44=60')
    expect((await passage()).tempos.slice(1)).toEqual([
      { at: '43.3', tempo: '120', ramp: true },
      { at: '44', tempo: '60' },
    ])
    // A ramp in the place of a mark keeps its tempo.
    await edit('--tempo-mark', '42=100', '--ramp', '42')
    expect((await passage()).tempos[1]).toEqual({ at: '42', tempo: '100', ramp: true })
    await edit('--no-tempo-mark', 'all')
    expect((await passage()).tempos).toEqual([])
  })

  test('meters change at measures, and back', async () => {
    const { edit, passage } = await atTheWeir()
    await edit('--change', '43=3/4', '--change', '44=4/4')
    expect((await passage()).changes).toEqual([
      { at: '43', meter: '3/4' },
      { at: '44', meter: '4/4' },
    ])
    expect((await edit('--change', '43=2+3/8')).out).toContain(
      'meter changes: 43=5/8 put in, 43=3/4 taken out',
    )
    await edit('--no-change', '43')
    expect((await passage()).changes).toEqual([{ at: '44', meter: '4/4' }])
  })

  test('rhythms by name and by ratios; sections by name', async () => {
    const { edit, passage } = await atTheWeir()
    await edit('--rhythm long-short --rhythm 6:2 --section "1=41 to 43.2" --section "the leap=43 to end"')
    expect(await passage()).toMatchObject({
      rhythms: ['long-short', '3:1'],
      sections: [
        { name: '1', from: '41', to: '43.2' },
        { name: 'the leap', from: '43', to: 'end' },
      ],
    })
    const { sections } = await passage()
    await edit('--no-rhythm', 'long-short', '--no-section', '1', '--section', 'The Leap=42 to end')
    expect(await passage()).toMatchObject({
      rhythms: ['3:1'],
      sections: [{ id: sections[1].id, name: 'The Leap', from: '42' }],
    })
  })

  test('what is not touched stays, with what another program put there', async () => {
    const { home, edit, passage, json, type } = await atTheWeir()
    await edit('--breath', '42.4', '--section', '1=41 to 43.2')
    const { id } = await json('piece', 'show', WEIR)
    const file = join(home, 'data', 'pieces', pieceFile({ v: 2, id, title: WEIR, passages: [] }))
    const there = JSON.parse(readFileSync(file, 'utf8'))
    there.color = 'green'
    there.passages[0].breaths[0].sign = 'comma'
    there.passages[0].sections[0].hand = 'left'
    writeFileSync(file, JSON.stringify(there))
    await edit('--breath', '43', '--section', '2=43 to end', '--goal', '132')
    await type('piece', 'edit', `${RUN}/1`, '--name', 'first')
    const now = JSON.parse(readFileSync(file, 'utf8'))
    expect(now.color).toBe('green')
    expect(now.passages[0].breaths).toEqual([
      { at: '42.4', kind: 'breath', sign: 'comma' },
      { at: '43', kind: 'breath' },
    ])
    expect(now.passages[0].sections[0]).toMatchObject({ name: 'first', hand: 'left' })
    expect((await passage()).goal).toBe('132')
  })

  test('nothing changed is said, and the file is not written', async () => {
    const { home, edit } = await atTheWeir()
    const said = await edit('--goal', '138', '--in', '41-44')
    expect(said.out).toContain('nothing was changed')
    expect(readdirSync(join(home, 'data', 'pieces')).filter(f => f.endsWith('.bak'))).toEqual([])
  })

  test('a new place brings its number of measures; notes of a part stay while it begins with the same note', async () => {
    const { home, edit, json } = await atTheWeir()
    const { id } = await json('piece', 'show', WEIR)
    const file = join(home, 'data', 'pieces', pieceFile({ v: 2, id, title: WEIR, passages: [] }))
    const there = JSON.parse(readFileSync(file, 'utf8'))
    there.passages[0].notes = ['0 1/4 C5', '5/2 1/4 D5', '7/2 1/4 E5']
    writeFileSync(file, JSON.stringify(there))
    const notes = () => JSON.parse(readFileSync(file, 'utf8')).passages[0].notes
    await edit('--in', '41-43')
    expect(notes()).toEqual(['0 1/4 C5', '5/2 1/4 D5'])
    await edit('--pickup', 'eighth')
    expect(notes()).toBeUndefined()
  })
})

describe('a piece and a section', () => {
  test('a piece has a title, dates, and how sure its goals are', async () => {
    const { type, json } = await atTheWeir()
    const said = await type(
      `piece edit "${WEIR}" --title "Weir Street" --ready-by 2031-04-02 --concert 2031-04-18 --sure printed`,
    )
    expect(said.out).toContain(`title: Weir Street (was ${WEIR})`)
    expect((await type('piece', 'show', 'Weir Street')).out).toContain(
      'ready by 2031-04-02, concert 2031-04-18, goals: printed',
    )
    expect(await json('piece', 'show', 'Weir Street')).toMatchObject({
      title: 'Weir Street',
      sure: 'printed',
    })
  })

  test('a section has a name and two places', async () => {
    const { type, passage, edit } = await atTheWeir()
    await edit('--section', '1=41 to 42.2', '--section', '2=42 to end')
    await type('piece', 'edit', `${RUN}/2`, '--name', 'the leap', '--from', '42.3', '--to', '44.2')
    expect((await passage()).sections[1]).toMatchObject({ name: 'the leap', from: '42.3', to: '44.2' })
  })
})

describe('the history', () => {
  const withSections = async () => {
    const p = await atTheWeir()
    await p.type('piece', 'split', RUN, '--by', 'half')
    const { id, sections } = await p.passage()
    return { ...p, id, sections }
  }

  test('stays where the music is the same, without a question', async () => {
    const { edit, passage, practiced, id } = await withSections()
    await practiced(id)
    const said = await edit(
      ...['--name', 'over the weir', '--goal', '126', '--start', '60', '--note', 'light', '--breath', '42.4'],
      ...['--ready-by', '2031-04-02', '--rhythm', 'long-short', '--matters', 'must'],
    )
    expect(said.status).toBe(0)
    expect(await passage()).toMatchObject({ id, ceiling: '116' })
  })

  test('a new goal is no new music, also where tempos change', async () => {
    const { edit, passage, practiced } = await atTheWeir()
    await edit('--tempo-mark', '43=half=60')
    const { id } = await passage()
    await practiced(id)
    expect((await edit('--goal', '112')).status).toBe(0)
    expect(await passage()).toMatchObject({ id, ceiling: '116', goal: '112' })
  })

  test.each([
    [['--in', '41-45'], 'measures, length'],
    [['--in', '51-54'], 'measures'],
    [['--meter', '3/4'], 'meter, length'],
    [['--pickup', 'quarter'], 'measures, pick-up, length'],
    [['--change', '43=3/4'], 'meter, length'],
    [['--tempo-mark', '43=60'], 'tempo changes'],
    [['--measures', '3'], 'measures, length'],
    [['--ends', '44.3'], 'length'],
  ])('where the music changes (%j) it is asked, and nothing is stored', async (typed, what) => {
    const { edit, passage, practiced } = await atTheWeir()
    await practiced((await passage()).id)
    const before = await passage()
    const asked = oneSentence(await edit(...typed))
    expect(asked).toContain(`run at the weir (${what}) is no longer the music you practiced`)
    expect(asked).toMatch(/--keep .*--anew/)
    expect(await passage()).toEqual(before)
  })

  test('nothing is asked where nothing was practiced', async () => {
    const { edit, passage } = await atTheWeir()
    const { id } = await passage()
    expect((await edit('--in', '41-45')).status).toBe(0)
    expect((await passage()).id).toBe(id)
  })

  test('--keep: the ceiling stays, under the same id', async () => {
    const { edit, passage, practiced } = await atTheWeir()
    const { id } = await passage()
    await practiced(id)
    const said = await edit('--in', '41-45', '--keep')
    expect(said.out).toContain('The history stays: run at the weir, ceiling quarter = 116.')
    expect(await passage()).toMatchObject({ id, measures: 5, ceiling: '116', earlier: [] })
  })

  test('--anew: no ceiling any more, and the old one can still be read', async () => {
    const { edit, type, passage, practiced } = await atTheWeir()
    const { id } = await passage()
    await practiced(id)
    const said = await edit('--in', '41-45', '--anew')
    expect(said.out).toContain('run at the weir, ceiling quarter = 116')
    const now = await passage()
    expect(now).toMatchObject({ measures: 5, ceiling: null, earlier: ['116'] })
    expect(now.id).not.toBe(id)
    expect((await type('piece', 'show', WEIR)).out).toContain(
      'before its music changed: ceiling quarter = 116',
    )
    // And once more: both stay readable.
    await practiced(now.id)
    await edit('--in', '41-46', '--anew')
    expect((await passage()).earlier).toEqual(['116', '116'])
  })

  test('only the sections whose music changed are asked about and begin anew', async () => {
    const { edit, passage, practiced, sections } = await withSections()
    // Halves: 1 and 2 are measure 41, 5 and 6 measure 43.
    for (const s of sections) await practiced(s.id)
    const asked = oneSentence(
      await edit('--change 43=2/4 --change 44=4/4 --section "5=43 to 44.2" --no-section 6'),
    )
    expect(asked).toContain('section 5')
    expect(asked).not.toMatch(/section [1237]/)
    const said = await edit('--change 43=2/4 --change 44=4/4 --section "5=43 to 44.2" --no-section 6 --anew')
    expect(said.status).toBe(0)
    const now = (await passage()).sections
    const ids = (list: readonly { id: string }[]) => list.map(s => s.id)
    expect(ids(now).slice(0, 3)).toEqual(ids(sections).slice(0, 3))
    expect(now[4]).toMatchObject({ name: '5', ceiling: null, earlier: ['116'] })
    expect(now[5]).toMatchObject({ name: '7', id: sections[6].id, ceiling: '116' })
  })

  test('a join counts as practiced', async () => {
    const { home, type, sections } = await withSections()
    const [a, b] = sections
    await climb(home, `join ${a.id}+${b.id} even`)
    const asked = oneSentence(await type('piece', 'edit', `${RUN}/1`, '--to', '43'))
    expect(asked).toContain('section 1 (measures, length) is no longer')
  })

  test('--keep and --anew together are refused', async () => {
    const { edit } = await atTheWeir()
    expect(oneSentence(await edit('--goal', '120', '--keep', '--anew'))).toContain('one of the two')
  })
})

const BAD: readonly (readonly [field: string, typed: readonly string[]])[] = [
  ['name', ['--name', ' ']],
  ['name', ['--name', 'x'.repeat(81)]],
  ['name', ['--name', 'Coda']],
  ['place', ['--in', '44-41']],
  ['place', ['--in', '0']],
  ['place', ['--in', 'x'.repeat(41)]],
  ['measures', ['--measures', '0']],
  ['measures', ['--measures', '4.5']],
  ['measures', ['--measures', '1000']],
  ['numbers', ['--numbers', '41 42']],
  ['meter', ['--meter', '5/9']],
  ['meter', ['--meter', 'none']],
  ['pick-up', ['--pickup', 'long']],
  ['pick-up', ['--pickup', 'whole']],
  ['ends', ['--ends', '42']],
  ['ends', ['--ends', 'soon']],
  ['goal tempo', ['--goal', 'fast']],
  ['goal tempo', ['--goal', '']],
  ['goal tempo', ['--goal', '1000']],
  ['goal tempo', ['--goal', '1', '--start', 'none']],
  ['goal tempo, note value', ['--goal', 'crotchet=80']],
  ['upper goal', ['--goal-top', '120']],
  ['upper goal', ['--goal-top', '1/2']],
  ['start tempo', ['--start', 'slow']],
  ['start tempo', ['--goal', '72']],
  ['ready by', ['--ready-by', '2031-03-14']],
  ['ready by', ['--ready-by', 'someday']],
  ['run', ['--run', 'quick']],
  ['matters', ['--matters', 'a lot']],
  ['pulse', ['--pulse', '1/3']],
  ['note', ['--note', 'x'.repeat(401)]],
  ['change', ['--change', '43']],
  ['change', ['--change', '43=5/9']],
  ['change 1, at', ['--change', '49=3/4']],
  ['change', ['--no-change', '43']],
  ['pick-up', ['--pickup', 'half', '--meter', '1/2', '--tempo-mark', '43=60']],
  ['numbers', ['--numbers', '41', '--tempo-mark', '43=60']],
  ['tempo', ['--tempo-mark', '43']],
  ['tempo', ['--tempo-mark', '43=fast']],
  ['tempo, note value', ['--tempo-mark', '43=crotchet=60']],
  ['tempo 1, at', ['--tempo-mark', '49=60']],
  ['tempo 1, at', ['--tempo-mark', '43.5=60']],
  ['tempo 1', ['--ramp', '43']],
  ['tempo 1, at', ['--ramp', '49']],
  ['tempo', ['--no-tempo-mark', '43']],
  ['breath', ['--breath', '']],
  ['breath', ['--breath', '43 slwo']],
  ['breath', ['--breath', '43 breath below']],
  ['breath', ['--breath', '43 below=96 below=90']],
  ['breath', ['--breath', '43 bow word=']],
  ['breath, waits', ['--breath', '43 bow waits']],
  ['breath, waits', ['--breath', '43 waits']],
  ['breath, below', ['--breath', '43 slow']],
  ['breath, below', ['--breath', '43 slow below=fast']],
  ['breath, below', ['--breath', '43 bow below=96']],
  ['breath, adds', ['--breath', '43 adds=half']],
  ['breath, adds', ['--breath', '43 fermata adds=long']],
  ['breath 1, at', ['--breath', '49']],
  ['breath 1, at', ['--breath', '43.5']],
  ['breath 1, at', ['--breath', '43+5/4']],
  ['breath 1, word', ['--breath', `43 bow word=${'x'.repeat(61)}`]],
  ['breath', ['--no-breath', '43']],
  ['rhythm', ['--rhythm', 'wobbly']],
  ['rhythm', ['--rhythm', '1:1']],
  ['rhythm', ['--no-rhythm', 'long-short']],
  ['section', ['--section', '1']],
  ['section', ['--section', '1=41']],
  ['section 1, from', ['--section', '1=49 to 50']],
  ['section 1, to', ['--section', '1=42 to 41']],
  ['section 1, name', ['--section', `${'x'.repeat(81)}=41 to 42`]],
  ['section', ['--no-section', '9']],
  ['--title', ['--title', 'Weir']],
  ['--concert', ['--concert', '2031-04-18']],
  ['--from', ['--from', '42']],
]

describe('what cannot be', () => {
  test.each(BAD)('%s is named in one sentence, and the piece stays as it was: %j', async (field, typed) => {
    const { edit, type, json } = await atTheWeir()
    await type('piece', 'add', WEIR, '--passage', 'coda', '--in', '80-84', '--goal', '100')
    const before = await json('piece', 'show', WEIR)
    const said = oneSentence(await edit(...typed))
    expect(said).toMatch(new RegExp(`^gradino: ${about(field)}.* (Try|Type) .+\\.\n$`))
    expect(await json('piece', 'show', WEIR)).toEqual(before)
  })

  test.each([
    ['title', ['--title', '']],
    ['title', ['--title', 'x'.repeat(121)]],
    ['ready by', ['--ready-by', '2031-02-29']],
    ['concert', ['--concert', 'spring']],
    ['goals are', ['--sure', 'maybe']],
    ['--goal', ['--goal', '120']],
    ['--breath', ['--breath', '42']],
    ['--no-section', ['--no-section', '1']],
  ])('%s of a piece: %j', async (field, typed) => {
    const { type, json } = await atTheWeir()
    const before = await json('piece', 'show', WEIR)
    expect(oneSentence(await type('piece', 'edit', WEIR, ...typed))).toMatch(
      new RegExp(`^gradino: ${about(field)}`),
    )
    expect(await json('piece', 'show', WEIR)).toEqual(before)
  })

  test.each([
    ['name', ['--name', '2']],
    ['from', ['--from', '49']],
    ['from', ['--from', '']],
    ['to', ['--to', '41']],
    ['--goal', ['--goal', '120']],
  ])('%s of a section: %j', async (field, typed) => {
    const { type, json } = await atTheWeir()
    await type('piece', 'split', RUN, '--at', '42.3')
    const before = await json('piece', 'show', WEIR)
    expect(oneSentence(await type('piece', 'edit', `${RUN}/1`, ...typed))).toMatch(
      new RegExp(`^gradino: ${about(field)}`),
    )
    expect(await json('piece', 'show', WEIR)).toEqual(before)
  })

  test('without options and without a terminal: one sentence', async () => {
    const { edit, type } = await atTheWeir()
    expect(oneSentence(await edit())).toContain('needs a terminal')
    expect(oneSentence(await type('piece', 'edit', 'Lantern Study'))).toContain('Lantern Study')
  })

  test('a place that no longer exists names the section that stands there', async () => {
    const { edit, type } = await atTheWeir()
    await type('piece', 'split', RUN, '--by', 'measure')
    expect(oneSentence(await edit('--in', '41-43'))).toContain('In section 3, to "44.2" doesn\'t work')
    expect((await edit('--in', '41-43', '--section', '3=43 to end', '--no-section', '4')).status).toBe(0)
  })
})

test('a passage with a date of its own keeps it when the date of its piece changes, and that is said', async () => {
  const { edit, type } = await atTheWeir()
  await edit('--ready-by', '2031-04-02')
  expect((await type('piece', 'edit', WEIR, '--ready-by', '2031-04-09')).out).toContain(
    'run at the weir (2031-04-02): a date of its own stays.',
  )
  expect((await type('piece', 'edit', WEIR, '--title', 'Weir Street')).out).not.toContain('of its own')
})

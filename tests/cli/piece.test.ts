import { existsSync, readdirSync, renameSync } from 'node:fs'
import { basename, join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { tempo } from '../../src/music/tempo.ts'
import { homeAt } from '../../src/store/home.ts'
import { openJournal } from '../../src/store/journal.ts'
import { about } from '../music/about.ts'
import { sources } from '../store/scene.ts'
import { player } from './typed.ts'

const WEIR = 'Weir Street Overture'
const run = ['--passage', 'run at the weir', '--in', '41-44', '--goal', '138']

describe('a passage typed by options', () => {
  test('has the measures of its place, 4/4, no pick-up, and looks for its start', async () => {
    const { type, json } = player()
    const said = await type('piece', 'add', WEIR, ...run)
    expect(said).toMatchObject({ status: 0, err: '' })
    expect(said.out).toContain('4 measures of 4/4, goal quarter = 138')
    expect(said.out).toContain(`gradino practice "${WEIR}/run at the weir"`)
    expect((await json('piece', 'show', WEIR)).passages).toMatchObject([
      {
        name: 'run at the weir',
        place: '41-44',
        meter: '4/4',
        measures: 4,
        pickup: null,
        start: null,
        goal: '138',
        ceiling: null,
        secure: null,
        ready: false,
        next: '80',
        finding: true,
        readyBy: null,
      },
    ])
  })

  test('keeps everything that was typed, as typed', async () => {
    const { type, json } = player()
    await type(
      `piece add "${WEIR}" --passage coda --in "letter C" --measures 3 --meter 3+2/8
      --pickup dotted-eighth --start eighth=63.5 --goal eighth=200
      --ready-by 2031-03-19 --note "tip of the phrase on the long note"`,
    )
    expect((await json('piece', 'show', WEIR)).passages).toMatchObject([
      {
        place: 'letter C',
        meter: '3+2/8',
        measures: 3,
        pickup: 'dotted-eighth',
        start: 'eighth=63.5',
        goal: 'eighth=200',
        next: 'eighth=63.5',
        finding: false,
        readyBy: '2031-03-19',
        days: 4,
        note: 'tip of the phrase on the long note',
      },
    ])
    const said = await type('piece', 'show', WEIR)
    expect(said.out).toContain(
      'next from 63.5, no ceiling yet, goal eighth = 200, ready by March 19, in 4 days',
    )
    expect(said.out).toContain('tip of the phrase')
  })

  test('is one more of a title that is there already, whatever its capitals and spaces', async () => {
    const { type, json } = player()
    await type('piece', 'add', WEIR, ...run)
    await type('piece', 'add', 'weir street  overture', '--in', 'mm. 1\u20138', '--goal', '126')
    const { pieces } = await json('pieces')
    expect(pieces).toHaveLength(1)
    expect(pieces[0].passages.map((p: { name: string; measures: number }) => [p.name, p.measures])).toEqual([
      ['run at the weir', 4],
      ['1-8', 8],
    ])
  })

  test.each([
    ['title', [' ', ...run]],
    ['title', ['\u001b\u0007', ...run]],
    ['title', ['x'.repeat(121), ...run]],
    ['name', [WEIR, '--measures', '4', '--goal', '138']],
    ['name', [WEIR, ...run, '--passage', 'x'.repeat(81)]],
    ['place', [WEIR, '--in', '44-41', '--goal', '138']],
    ['place', [WEIR, '--in', '0-4', '--goal', '138']],
    ['place', [WEIR, '--in', 'x'.repeat(41), '--measures', '2', '--goal', '138']],
    ['measures', [WEIR, ...run, '--measures', '0']],
    ['measures', [WEIR, ...run, '--measures', '4.5']],
    ['measures', [WEIR, ...run, '--measures', '1000']],
    ['place', [WEIR, '--in', 'letter C', '--goal', '138']],
    ['place', [WEIR, '--passage', 'coda', '--goal', '138']],
    ['meter', [WEIR, ...run, '--meter', '5/9']],
    ['pick-up', [WEIR, ...run, '--pickup', 'long']],
    ['pick-up', [WEIR, ...run, '--pickup', 'whole']],
    ['pick-up', [WEIR, ...run, '--meter', '3/8', '--pickup', 'dotted-quarter']],
    ['goal tempo', [WEIR, '--in', '41-44']],
    ['goal tempo', [WEIR, '--in', '41-44', '--goal', 'fast']],
    ['goal tempo', [WEIR, '--in', '41-44', '--goal', '1000']],
    ['goal tempo, note value', [WEIR, '--in', '41-44', '--goal', 'crotchet=80']],
    ['goal tempo', [WEIR, '--in', '41-44', '--goal', '1']],
    ['start tempo', [WEIR, ...run, '--start', 'slow']],
    ['start tempo', [WEIR, ...run, '--start', 'soon']],
    ['slips', [WEIR, ...run, '--slips', '10']],
    ['to go up', [WEIR, ...run, '--clean', '5-of-4']],
    ['step', [WEIR, ...run, '--step', 'leap']],
    ['day start', [WEIR, ...run, '--day-start', '60%']],
    ['ready by', [WEIR, ...run, '--ready-by', '2031-03-14']],
    ['ready by', [WEIR, ...run, '--ready-by', '2031-06-31']],
    ['ready by', [WEIR, ...run, '--ready-by', 'soon']],
    ['note', [WEIR, ...run, '--note', 'x'.repeat(401)]],
  ])('%s is named where it is wrong, and nothing is stored: %j', async (field, typed) => {
    const { home, type } = player()
    const said = await type('piece', 'add', ...typed)
    expect(said.status).toBe(2)
    expect(said.err).toMatch(new RegExp(`^gradino: ${about(field)}.* (Try|Type) .*\\.\n$`))
    expect(said.err.trim()).not.toContain('\n')
    expect(said.err).not.toContain('\u001b')
    expect(said.out).toBe('')
    expect(readdirSync(home)).toEqual([])
  })

  test('a name that another passage of the piece has is refused, and the piece stays as it was', async () => {
    const { type, json } = player()
    await type('piece', 'add', WEIR, ...run)
    const said = await type(`piece add "${WEIR}" --passage "Run at the  WEIR" --measures 2 --goal 60`)
    expect(said).toMatchObject({ status: 2, out: '' })
    expect(said.err).toContain(`already has a passage called "Run at the  WEIR"`)
    expect((await json('piece', 'show', WEIR)).passages).toHaveLength(1)
  })

  test('today is not past', async () => {
    const { type } = player()
    expect((await type('piece', 'add', WEIR, ...run, '--ready-by', '2031-03-15')).status).toBe(0)
    expect((await type('pieces')).out).toContain('ready by March 15, today')
  })

  test.each([
    [['piece', 'add', WEIR, '--gaol', '120'], '--gaol'],
    [['piece', 'add'], 'title'],
    [['piece', 'show', 'Lantern Study'], 'Lantern Study'],
    [['piece', 'remove', 'Lantern Study'], 'Lantern Study'],
    [['lift'], '"lift" isn\'t a command'],
  ])('%j ends with status 2 and one sentence', async (typed, named) => {
    const said = await player().type(...typed)
    expect(said).toMatchObject({ status: 2, out: '' })
    expect(said.err).toContain(named)
    expect(said.err.trim()).not.toContain('\n')
  })
})

describe('what was practiced', () => {
  test('stands beside each passage: its ceiling, and the next start at 97 % of it, down to a rung', async () => {
    const { home, type, json } = player()
    await type('piece', 'add', WEIR, ...run, '--start', '80')
    const { id } = (await json('piece', 'show', WEIR)).passages[0]
    await climb(home, `section ${id} even`)
    expect((await json('piece', 'show', WEIR)).passages[0]).toMatchObject({ ceiling: '116', next: '112' })
    for (const command of [['pieces'], ['piece', 'show', WEIR], []])
      expect((await type(...command)).out).toContain('next from 112, ceiling 116, goal quarter = 138')
  })
})

describe('taking out', () => {
  test('a passage leaves its piece; its file as it was brings it back', async () => {
    const { home, type, json } = player()
    await type('piece', 'add', WEIR, ...run)
    await type('piece', 'add', WEIR, '--in', '1-8', '--goal', '126')
    const before = await json('pieces')
    const { file } = await json('piece', 'remove', `${WEIR}/1-8`)
    expect((await json('piece', 'show', WEIR)).passages).toHaveLength(1)
    renameSync(file, file.replace(/\.bak$/, ''))
    expect(await json('pieces')).toEqual(before)
    const said = await type('piece', 'remove', `${WEIR}/run`)
    expect(said.out).toContain(
      'run at the weir is no longer in Weir Street Overture. What you practiced stays',
    )
    expect(said.out).toContain(join(home, 'data', 'pieces'))
  })

  test('a piece with several passages wants --all; its file in the folder beside brings it back', async () => {
    const { home, type, json } = player()
    await type('piece', 'add', WEIR, ...run)
    await type('piece', 'add', WEIR, '--in', '1-8', '--goal', '126')
    const before = await json('pieces')
    const refused = await type('piece', 'remove', WEIR)
    expect(refused.status).toBe(2)
    expect(refused.err).toContain(
      '--all for the whole piece, or name one of them: "Weir Street Overture/run at the weir"',
    )
    expect(await json('pieces')).toEqual(before)
    const { file } = await json('piece', 'remove', WEIR, '--all')
    expect(existsSync(file)).toBe(true)
    expect((await type('pieces')).out).toContain('You have no pieces yet')
    renameSync(file, join(home, 'data', 'pieces', basename(file)))
    expect(await json('pieces')).toEqual(before)
  })

  test('the last passage takes its piece along; --all is for pieces only', async () => {
    const { type, json } = player()
    await type('piece', 'add', WEIR, ...run)
    expect((await type('piece', 'remove', `${WEIR}/run`, '--all')).status).toBe(2)
    const said = await type('piece', 'remove', `${WEIR}/run`)
    expect(said.out).toContain(
      'Weir Street Overture is no longer in the repertoire. What you practiced stays',
    )
    expect((await json('pieces')).pieces).toEqual([])
  })
})

/** The day before: three clean ones at 116, the middle rung of three. */
const climb = async (home: string, key: string): Promise<void> => {
  const yesterday = sources('visit', Date.parse('2031-03-14T12:00:00Z'))
  const journal = await openJournal(homeAt(home, {}), yesterday)
  const rungs = [tempo(112), tempo(116), tempo(120)]
  await journal.append([
    { kind: 'visit', key, rungs, at: 1, rules: DEFAULT_RULES },
    ...[1, 2, 3].map(rep => ({ kind: 'verdict' as const, rep, tempo: tempo(116), whole: true, clean: true })),
  ])
  await journal.close()
}

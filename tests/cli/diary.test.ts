import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { quickKey, sectionKey } from '../../src/ladder/key.ts'
import { frac } from '../../src/music/fraction.ts'
import { homeAt } from '../../src/store/home.ts'
import { journalFolder } from '../../src/store/journal.ts'
import { readPractice, snapshotFile } from '../../src/store/snapshot.ts'
import { practiced } from './practiced.ts'
import { player } from './typed.ts'

const WEIR = 'Weir Street Overture'
const QUICK = quickKey({
  meter: { groups: [1, 1, 1, 1], unit: frac(1, 4) },
  measures: 2,
  pickup: null,
  unit: frac(1, 4),
})

/** A player with one passage, and the key under which it is practiced. */
const withPassage = async (title = WEIR) => {
  const p = player()
  await p.type('piece', 'add', title, '--passage', 'run at the weir', '--in', '41-44', '--goal', '138')
  const key = sectionKey((await p.json('piece', 'show', title)).passages[0].id)
  return { ...p, key, journal: journalFolder(homeAt(p.home)) }
}

describe('the week on one page', () => {
  test('says on how many of its days so far was played, how long, and what it brought', async () => {
    const { home, key, type } = await withPassage()
    await practiced(home, [
      { key, at: '2031-03-05T17:00:00Z', presses: 'CCC' },
      { key, at: '2031-03-10T17:00:00Z', presses: 'CCCCCCN' },
      { key: QUICK, at: '2031-03-12T09:00:00Z', presses: 'CCS', seconds: 30 },
      { key, at: '2031-03-12T17:00:00Z', presses: 'NCCC' },
    ])
    expect((await type('diary')).out).toBe(
      [
        'This week: played on two of six days, 5 minutes.',
        'Monday, March 10: 2 minutes',
        `  ${WEIR}, run at the weir, m. 41-44: 7 repetitions, 6 of 7 clean, ceiling quarter = 96, before 92`,
        'Wednesday, March 12: 3 minutes',
        '  Quick ladder, 2 measures of 4/4: 3 repetitions, 2 of 2 clean',
        `  ${WEIR}, run at the weir, m. 41-44: 4 repetitions, 3 of 4 clean`,
        '',
      ].join('\n'),
    )
  })

  test('of other weeks counts seven days, from the first that was asked for', async () => {
    const { home, key, type } = await withPassage()
    await practiced(home, [
      { key, at: '2030-12-20T17:00:00Z', presses: 'CCC' },
      { key, at: '2031-03-05T17:00:00Z', presses: 'CCC' },
    ])
    const { out } = await type('diary', '--from', '2030-12-19')
    expect(out.split('\n').filter(line => line.includes('week') || line.includes('Week'))).toEqual([
      'Week of December 16, 2030: played on one of four days, 1 minute.',
      'Week of March 3: played on one of seven days, 1 minute.',
      'This week: nothing played yet.',
    ])
    expect((await type('diary', '--from', '2031-03-06')).out).not.toContain('March 5')
    expect((await type('diary', '--from', '2031-03-20')).err).toContain('"2031-03-20" is still to come.')
    expect((await type('diary', '--from', '9 days ago')).out).not.toContain('March 5')
  })

  test('before the first note says so', async () => {
    expect(await player().type('diary')).toEqual({
      status: 0,
      out: 'This week: nothing played yet.\n',
      err: '',
    })
  })

  test('a day ends at four in the night, where the player is', async () => {
    const { home, key, json } = await withPassage()
    await practiced(home, [
      { key, at: '2031-03-12T02:50:00Z', offset: 60, presses: 'C' },
      { key, at: '2031-03-12T03:10:00Z', offset: 60, presses: 'C' },
      { key, at: '2031-03-12T03:20:00Z', offset: -480, presses: 'C' },
    ])
    const { days } = await json('diary')
    expect(days.map((d: { date: string; visits: number }) => [d.date, d.visits])).toEqual([
      ['2031-03-11', 2],
      ['2031-03-12', 1],
    ])
  })

  test('long pauses are no practice: a visit left open over lunch has its usual time and twenty seconds', async () => {
    const { home, key, json } = await withPassage()
    await practiced(home, [{ key, at: '2031-03-12T10:00:00Z', presses: 'CCCCCC', seconds: 30 }])
    const folder = join(homeAt(home).data, 'journal')
    const [machine] = readdirSync(folder)
    const file = join(folder, machine ?? '', '2031-03.jsonl')
    const late = readFileSync(file, 'utf8').replaceAll(/T10:0(2:30|3:00)/g, 'T12:0$1')
    writeFileSync(file, late)
    // 2 minutes before, 50 s instead of two hours, 30 s after.
    expect((await json('diary')).days[0].minutes).toBe(3)
  })

  test('a clock that was set far ahead breaks nothing', async () => {
    const { home, key, type } = await withPassage()
    await practiced(home, [{ key, at: '2046-07-01T10:00:00Z', presses: 'CCC' }])
    await practiced(home, [{ key, at: '2031-03-12T10:00:00Z', presses: 'CCC' }])
    expect((await type('diary')).out).toContain('Week of June 25, 2046: played on one of seven days')
  })

  test('what left the repertoire keeps its name in the diary', async () => {
    const { home, key, type } = await withPassage()
    await practiced(home, [{ key, at: '2031-03-12T10:00:00Z', presses: 'CCC' }])
    await type('piece', 'remove', WEIR)
    expect((await type('diary')).out).toContain(`${WEIR}, run at the weir`)
  })

  test.each([['2031-02-30'], ['12 Marsh'], ['2031-3-1']])('%s is no day', async day => {
    const said = await player().type('diary', '--from', day)
    expect(said).toEqual({
      status: 2,
      out: '',
      err: `gradino: "${day}" doesn't work for --from. Try 2031-03-15, "6 days ago" or "Monday".\n`,
    })
  })
})

describe('the table', () => {
  test('has a line for each passage and day, of everything that was ever practiced', async () => {
    const { home, key, type } = await withPassage()
    await practiced(home, [
      { key, at: '2029-05-01T10:00:00Z', presses: 'CCCN' },
      { key: `cold ${key}`, at: '2031-03-12T09:00:00Z', presses: 'C' },
      { key: QUICK, at: '2031-03-12T10:00:00Z', presses: 'S' },
    ])
    const file = join(home, 'diary.csv')
    const said = await type('diary', '--csv', file)
    expect(said).toEqual({ status: 0, out: `${file}: 3 lines under the heading.\n`, err: '' })
    expect(readFileSync(file, 'utf8').split('\r\n')).toEqual([
      '\ufeffdate,piece,passage,section,rhythm,ladder,take,minutes,visits,repetitions,verdicts,clean,clean share,new ceiling,new ceiling in quarters a minute,goal reached',
      `2029-05-01,${WEIR},"run at the weir, m. 41-44",,even,up,,1.3,1,4,4,3,0.75,92,92,no`,
      `2031-03-12,${WEIR},"run at the weir, m. 41-44",,even,up,cold,0.3,1,1,1,1,1,,,no`,
      '2031-03-12,Quick ladder,2 measures of 4/4,,even,up,,0.3,1,1,0,0,,,,no',
      '',
    ])
    await type('diary', '--csv', file, '--from', '2031-01-01')
    expect(readFileSync(file, 'utf8').split('\r\n')).toHaveLength(4)
  })

  test('runs nothing in a spreadsheet, whatever a piece is called', async () => {
    const title = '=HYPERLINK("http://weir.example","Overture")'
    const { home, key, type } = await withPassage(title)
    await practiced(home, [{ key, at: '2031-03-12T10:00:00Z', presses: 'CCCN' }])
    const file = join(home, 'diary.csv')
    await type('diary', '--csv', file)
    expect(readFileSync(file, 'utf8')).toContain(`,"'=HYPERLINK(""http://weir.example"",""Overture"")",`)
  })

  test('that cannot be written is refused in one sentence, and nothing is left', async () => {
    const { home, type } = await withPassage()
    const file = join(home, 'nowhere', 'diary.csv')
    expect(await type('diary', '--csv', file)).toEqual({
      status: 1,
      out: '',
      err: `gradino: Can't write ${file}: its folder does not exist; make it first, or name another place.\n`,
    })
    expect(existsSync(join(home, 'nowhere'))).toBe(false)
  })
})

describe('the check', () => {
  const fileOf = (journal: string): string => {
    const [machine] = readdirSync(journal)
    return join(journal, machine ?? '', '2031-03.jsonl')
  }
  const played = async () => {
    const p = await withPassage()
    await practiced(p.home, [{ key: p.key, at: '2031-03-12T10:00:00Z', presses: 'CCCNCC' }])
    return { ...p, file: fileOf(p.journal) }
  }

  test('of a whole journal ends with 0', async () => {
    const { type } = await played()
    expect(await type('diary', '--check')).toEqual({
      status: 0,
      out: [
        '1 journal file, 7 lines, 1 visit; 1 piece.',
        'There is no snapshot; all answers come from the files.',
        'Everything is as it was written.',
        '',
      ].join('\n'),
      err: '',
    })
    expect((await player().type('diary', '--check')).status).toBe(0)
  })

  test('names a damaged line, what is missing with it, and ends with 1', async () => {
    const { type, file, json } = await played()
    const lines = readFileSync(file, 'utf8').split('\n')
    lines[5] = (lines[5] ?? '').slice(0, 40)
    writeFileSync(file, lines.join('\n'))
    const said = await type('diary', '--check')
    expect(said.status).toBe(1)
    expect(said.out.split('\n')).toEqual([
      '1 journal file, 6 lines, 1 visit; 1 piece.',
      `Damaged: ${file}, line 6. It is skipped; the lines around it count.`,
      `Missing: 1 line of practice that began in ${file}. The row starts again after the gap; no ceiling was made up.`,
      'There is no snapshot; all answers come from the files.',
      'Everything else is as it was written.',
      '',
    ])
    expect(await json('diary', '--check')).toMatchObject({
      clean: false,
      damaged: [{ file, line: 6 }],
      missing: [{ file, lines: 1 }],
    })
  })

  test('finds lines that are gone without a trace, and visits that lost their opening', async () => {
    const { type, file } = await played()
    const text = readFileSync(file, 'utf8')
    writeFileSync(file, text.slice(text.indexOf('\n\n') + 1))
    const { status, out } = await type('diary', '--check')
    expect(status).toBe(1)
    expect(out).toContain('Missing: 1 line of practice that began in')
    expect(out).toContain('Not counted: 6 lines, because the opening of their visit is lost.')
  })

  test('lines of a newer program are no damage, and leave no gap', async () => {
    const { type, file } = await played()
    writeFileSync(file, readFileSync(file, 'utf8').replace('"k":"verdict","rep":4', '"k":"trill","rep":4'))
    const { status, out } = await type('diary', '--check')
    expect(status).toBe(0)
    expect(out).toContain('1 line came from a newer Gradino')
  })

  test('copies from another machine are no damage', async () => {
    const { type, file } = await played()
    const text = readFileSync(file, 'utf8')
    writeFileSync(file.replace('.jsonl', ' (copy).jsonl'), text.slice(0, text.length / 2 + 3))
    const { out } = await type('diary', '--check')
    expect(out).toContain('Copies of 1 visit are in other files too; each visit counts once.')
  })

  test('compares with the snapshot, and takes one away that does not know of a change', async () => {
    const { home, type, file } = await played()
    const at = homeAt(home)
    await readPractice(at, 0)
    expect((await type('diary', '--check')).out).toContain('With the snapshot the answers are the same')
    // The same size and the same end: what no look at a file can notice.
    const text = readFileSync(file, 'utf8')
    const more = Array.from({ length: 30 }, () => text.slice(text.length - 200)).join('')
    writeFileSync(file, text + more)
    await readPractice(at, 0)
    writeFileSync(file, (text + more).replace('"rep":2,', '"rep":9,'))
    const { status, out } = await type('diary', '--check')
    expect(status).toBe(1)
    expect(out).toContain('It was deleted')
    expect(existsSync(snapshotFile(at))).toBe(false)
  })

  test('reads the pieces too', async () => {
    const { home, type } = await played()
    const folder = join(homeAt(home).data, 'pieces')
    mkdirSync(folder, { recursive: true })
    writeFileSync(join(folder, 'torn.json'), '{')
    const { status, out } = await type('diary', '--check')
    expect(status).toBe(1)
    expect(out).toContain('torn.json is left as it is')
  })

  test('stands alone', async () => {
    expect(await player().type('diary', '--check', '--csv', 'x.csv')).toMatchObject({ status: 2, out: '' })
  })
})

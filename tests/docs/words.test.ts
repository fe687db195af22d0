import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { PAGES, ROOT, textOf } from './pages.ts'

/** Turns of phrase that once stood on a screen, in a help text, an error or a page, and read as translated. */
const GONE = [
  'is subdivided by itself',
  'a passage that is to be kept',
  'as stairs over the days',
  'of pain, what went wrong',
  'of pain, or what went wrong',
  'an error costs a repetition',
  'never stores a false clean',
  'one folder of the system for each kind',
  'is passed over',
  'empties the row',
  'is no slip',
  'once off it stays off',
  'what no journal knows',
  'from the own log',
  'lead hardly anywhere',
  'no section follows itself',
  'a single day is never named',
  'seeds that nothing was chosen on',
  'the greatest of everything that you have played',
  'from 126 on besides',
  'may be lost in part',
  'made two of one id',
  'is the foot between two pedals',
  'does not spell',
  'extra is named',
  'to be followed by eye',
  'bar lines alone do not hold it',
  's, possible',
  'minutes a day can bring',
  'when its rung is decided',
  'right what comes next, left',
  'so near the date',
  'beyond the goal; the goal is the last rung',
  'already judged',
  'three times a rung down',
  'to play it clean the first time',
  'the end is open',
  '; accepted: ',
  'a file that is there',
  'nothing yet, the repertoire is empty',
  'already means',
  'goes on, also before',
  'put the instrument down',
  'nothing was given',
  'of which',
  'so that it',
  'there already',
  "can't be used",
]

/** What a player may read in the source: all but its comments, and a sentence that is cut in two as one. */
const spoken = (source: string): string =>
  source
    .replace(/\/\*[\s\S]*?\*\/|^\s*\/\/.*$/gm, '')
    .replace(/['"`] \+\s*['"`]/g, '')
    .replace(/\s+/g, ' ')
    .toLowerCase()

const under = (folder: string): readonly string[] =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter(f => /\.(tsx?|json)$/.test(f))
    .map(f => `${folder}/${f}`)

const READ = [...under('src'), ...under('presets'), ...PAGES, 'DEVELOPERS.md'].map(
  file =>
    [file, spoken(file.endsWith('.md') ? textOf(file) : readFileSync(join(ROOT, file), 'utf8'))] as const,
)

describe('nobody would say this in a rehearsal', () => {
  test.each(GONE)('"%s" stands nowhere', phrase => {
    expect(READ.filter(([, text]) => text.includes(phrase)).map(([file]) => file)).toEqual([])
  })

  test('and what is looked for would be found', () => {
    expect(spoken("/** so that it */ say('so near ' +\n  'the date')")).toContain('so near the date')
    expect(spoken('/** so that it */')).not.toContain('so that it')
    expect(
      READ.some(
        ([file, text]) => file === 'src/screens/home/words.ts' && text.includes('what is on the stand?'),
      ),
    ).toBe(true)
  })
})

import { execFileSync } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, relative } from 'node:path'
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest'
import { type Pty, startInPty } from '../../terminal/pty.ts'

const MAIN = join(import.meta.dirname, '../../../dist/main.js')
const SCORE = join(import.meta.dirname, '../../../docs/weir-street.musicxml')
const AT = { GRADINO_NOW: '2031-03-15T12:00:00Z', CI: 'true' }
const RUN = 'Weir Street Overture/run at the weir'

let made = ''
beforeAll(() => {
  made = mkdtempSync(join(tmpdir(), 'gradino-note-'))
  const add = ['piece', 'add', 'Weir Street Overture', '--passage', 'run at the weir', '--in', '41-44']
  for (const args of [
    [...add, '--goal', '138', '--start', '96'],
    ['piece', 'split', RUN, '--by', 'measure'],
  ])
    execFileSync(process.execPath, [MAIN, '--home', made, ...args], { env: { ...process.env, ...AT } })
  // What is said once is said already.
  mkdirSync(join(made, 'config'), { recursive: true })
  writeFileSync(join(made, 'config', 'settings.json'), '{ "v": 1, "cautionsShown": true }')
})
afterAll(() => rmSync(made, { recursive: true, force: true }))

let home = ''
let pty: Pty
beforeEach(() => {
  home = mkdtempSync(join(tmpdir(), 'gradino-note-'))
  cpSync(made, home, { recursive: true })
})
afterEach(() => {
  pty.dispose()
  rmSync(home, { recursive: true, force: true })
})

const pause = (ms: number): Promise<void> => new Promise(done => setTimeout(done, ms))

/** All files of the player with what stands in them. */
const files = (): ReadonlyMap<string, string> =>
  new Map(
    readdirSync(home, { recursive: true, withFileTypes: true })
      .filter(f => f.isFile())
      .map(f => join(f.parentPath, f.name))
      .map(path => [relative(home, path), readFileSync(path, 'utf8')]),
  )
const isNote = (path: string): boolean => /^data.notes/.test(path)
const notesIn = (all: ReadonlyMap<string, string>): readonly Record<string, unknown>[] =>
  [...all].flatMap(([path, text]) =>
    isNote(path)
      ? text
          .split('\n')
          .filter(Boolean)
          .map(line => JSON.parse(line))
      : [],
  )
/** The name of a machine is made with its first line. */
const others = (all: ReadonlyMap<string, string>) =>
  [...all].filter(([path]) => !isNote(path) && !path.endsWith('machine')).sort()

/** What is pressed on the way to a screen, and what is seen then. */
type Way = readonly (readonly [keys: string, seen: RegExp])[]
const START = '\x1b[6~'
const NONE = { piece: false, key: null }
const PASSAGE = { piece: true, key: /^section \S+ even$/ }

/** Every screen, what it shows when it is ready, how one comes to it, and what a note is about that is made there. */
const SCREENS: readonly (readonly [
  name: string,
  args: readonly string[],
  ready: RegExp,
  way: Way,
  about: { readonly piece: boolean; readonly key: RegExp | null },
])[] = [
  ['the day', [], /Fundamentals/, [], NONE],
  ['a line of the day', [], /Fundamentals/, [['2', /║: .*from 96/]], PASSAGE],
  ['the pieces', [], /Fundamentals/, [['p', /one passage/]], PASSAGE],
  [
    'the sections',
    [],
    /Fundamentals/,
    [
      ['p', /one passage/],
      ['\r', /the whole passage/],
    ],
    PASSAGE,
  ],
  [
    'the rest',
    [],
    /Fundamentals/,
    [
      ['4', /║: .*Rest/],
      ['\r', /5 minutes left/],
    ],
    NONE,
  ],
  ['practice', ['practice', RUN], /either pedal/, [], PASSAGE],
  ['practice, while it sounds', ['practice', RUN], /either pedal/, [[START, /IN|count-in/]], PASSAGE],
  [
    'the closing view',
    ['practice', RUN],
    /either pedal/,
    [
      [START, /count-in/],
      ['f', /Everything is stored/],
    ],
    PASSAGE,
  ],
  ['a quick ladder', ['practice', '--goal', '120'], /either pedal/, [], { piece: false, key: /^quick / }],
  ['the click', ['click'], /start/, [], NONE],
  ['the click, while it sounds', ['click'], /start/, [[START, /stop/]], NONE],
  ['the reading', ['read', RUN], /either pedal/, [], PASSAGE],
  ['the reading, while it sounds', ['read', RUN], /either pedal/, [[START, /hard spot is here/]], PASSAGE],
  ['a warm-up', ['warmup'], /start/, [], { piece: false, key: /^warmup / }],
  [
    'a warm-up, while it sounds',
    ['warmup'],
    /start/,
    [[START, /next|again/]],
    { piece: false, key: /^warmup / },
  ],
  [
    'the question of the form',
    ['piece', 'edit', RUN],
    /name +run/,
    [
      ['x', /x/],
      ['\x1b', /Store it/],
    ],
    PASSAGE,
  ],
  ['the import', ['piece', 'import', SCORE], /Violin|part/, [], NONE],
  ['the click by ear', ['sound', '--choose', '--output', 'silent'], /by ear/, [], NONE],
  ['the day by lines', ['--plain'], /4: Rest/, [], NONE],
  ['the pieces by lines', ['--plain'], /4: Rest/, [['p', /one passage/]], PASSAGE],
  ['practice by lines', ['practice', RUN, '--plain'], /either pedal/, [], PASSAGE],
  [
    'the rest by lines',
    ['--plain'],
    /4: Rest/,
    [
      ['4', /4, \d+ min: Rest/],
      ['\r', /5 minutes left/],
    ],
    NONE,
  ],
  ['the click by lines', ['click', '--plain'], /start/, [], NONE],
  ['the reading by lines', ['read', RUN, '--plain'], /either pedal/, [], PASSAGE],
  ['a warm-up by lines', ['warmup', '--plain'], /start/, [], { piece: false, key: /^warmup / }],
]

test.each(SCREENS)(
  '%s: a note is on disk when the screen says so, and nothing else has changed',
  async (name, args, ready, way, about) => {
    pty = startInPty(process.execPath, [MAIN, '--home', home, ...args], { env: AT })
    const said = args.includes('--plain')
    await pty.waitFor(ready, 15_000)
    for (const [keys, seen] of way) {
      await pty.send(keys)
      await pty.waitFor(seen)
    }
    // A screen that asks before it can be used leaves its own traces first.
    await pty.send('n')
    await pty.waitFor(/Enter keeps it/)
    const before = others(files())
    await pty.send([...'second finger, no open string'])
    await pty.waitFor(/no open string/)
    expect(notesIn(files())).toEqual([])
    await pty.send('\r')
    await pty.waitFor('Noted.')
    const after = files()
    const [note, ...more] = notesIn(after)
    expect(more).toEqual([])
    expect(note).toMatchObject({ k: 'note', text: 'second finger, no open string' })
    expect('piece' in (note ?? {})).toBe(about.piece)
    if (about.key) expect(note?.key).toMatch(about.key)
    else expect(note?.key).toBeUndefined()
    // What sounds meanwhile is written down as ever.
    const grows = (path: string): boolean => name.includes('sounds') && path.includes('journal')
    const now = new Map(others(after))
    expect([...now.keys()]).toEqual(before.map(([path]) => path))
    for (const [path, text] of before)
      if (grows(path)) expect(now.get(path)?.startsWith(text)).toBe(true)
      else expect(now.get(path)).toBe(text)
    // The screen is still there, and answers.
    if (!said) expect(pty.rows().join('\n').length).toBeGreaterThan(60)
    await pty.send('\x03')
    expect((await pty.exit).signal).toBe(0)
  },
)

test('set-up: a note has its key once the pedals are learned', async () => {
  pty = startInPty(process.execPath, [MAIN, '--home', home, 'setup'], { env: AT })
  await pty.waitFor('press it three times')
  for (const key of ['\x1b[6~', '1'] as const) {
    if (key === '1') {
      await pty.waitFor(/The left pedal/)
      await pty.send(key)
    } else {
      for (let i = 0; i < 3; i++) {
        await pty.send(key)
        await pause(1200)
      }
      await pty.waitFor(/hold/i)
      await pty.send(key)
      await pause(3000)
    }
  }
  await pty.waitFor(/0: leave it open/)
  await pty.send('0')
  await pty.waitFor('Try it')
  await pty.send('n')
  await pty.waitFor(/Enter keeps it/)
  await pty.send([...'the new pedal is too light', '\r'])
  await pty.waitFor('Noted.')
  expect(notesIn(files())).toMatchObject([{ k: 'note', text: 'the new pedal is too light' }])
  await pty.send('f')
  expect(await pty.exit).toMatchObject({ code: 0 })
})

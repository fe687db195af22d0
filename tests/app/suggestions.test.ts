import { describe, expect, test } from 'vitest'
import { contextFrom } from '../../src/app/context.ts'
import { findTarget } from '../../src/app/find-target.ts'
import { readNow, readPracticed } from '../../src/app/now.ts'
import { builtIn } from '../../src/app/presets.ts'
import { airIsKnown, suggestions } from '../../src/app/suggestions.ts'
import type { Typed } from '../../src/cli/commands.ts'
import { parseAsked } from '../../src/cli/options.ts'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { toNumber } from '../../src/music/fraction.ts'
import { checked } from '../../src/music/result.ts'
import { parseTempo, quarters, tempo } from '../../src/music/tempo.ts'
import { homeAt } from '../../src/store/home.ts'
import { openJournal } from '../../src/store/journal.ts'
import { openSettings } from '../../src/store/settings.ts'
import { newSession, type Session } from '../../src/visit/session.ts'
import { quickTarget } from '../../src/visit/target.ts'
import { player } from '../cli/typed.ts'
import { sources } from '../store/scene.ts'

const WEIR = 'Weir Street Overture'
const RUN = `${WEIR}/run at the weir`

/** Twelve beats, measures 41 to 43. */
const atTheWeir = async (...edits: readonly string[]) => {
  const p = player()
  await p.type(`piece add "${WEIR}" --passage "run at the weir" --in 41-43 --goal 138 --start 60`)
  if (edits.length > 0) await p.type('piece', 'edit', RUN, ...edits)
  const ctx = { ...contextFrom({}, {}), home: homeAt(p.home, {}) }
  const settings = async () => (await openSettings(ctx.home, ctx.clock.wall)).now()
  /** What is beside the ladder of something, with the ladder at a tempo. */
  const beside = async (bpm: number, name: string | Typed<'practice'> = RUN) => {
    const quick = (typed: Typed<'practice'>) => {
      const asked = checked(parseAsked(typed, builtIn()))
      return quickTarget({ ...asked, goal: asked.goal ?? tempo(120) })
    }
    const t = checked(typeof name === 'string' ? await findTarget(await readNow(ctx), name, {}) : quick(name))
    const b = suggestions(ctx, await readPracticed(ctx), t, await settings())
    const session: Session = newSession({
      key: t.key,
      form: t.form,
      numbers: t.numbers,
      goal: t.goal,
      rhythm: t.rhythm,
      opening: { rungs: [tempo(bpm)], at: 0, rules: DEFAULT_RULES },
      ceiling: null,
      click: t.click,
      pedals: 2,
      after: 'wait',
      rest: { clean: 2, slip: 4 },
      rate: 48_000,
    })
    return {
      session,
      target: t,
      line: b.line(session),
      asks: b.asks(session),
      yes: () => b.yes(session, null),
      b,
    }
  }
  const breaths = async () => (await p.json('piece', 'show', WEIR)).passages[0].breaths
  return { ...p, ctx, settings, beside, breaths }
}

/** One clean repetition with a breath of so many seconds. */
const done = async (home: string, air: number, key = 'section mill even') => {
  const journal = await openJournal(
    homeAt(home, {}),
    sources(`air${air * 100}x`, Date.parse('2031-03-14T12:00:00Z')),
  )
  await journal.append([
    { kind: 'visit', key, rungs: [tempo(60)], at: 0, rules: DEFAULT_RULES },
    { kind: 'verdict', rep: 1, tempo: tempo(60), whole: true, clean: true, air },
  ])
  await journal.close()
}

describe('a player who can play 8 seconds in one breath, before twelve beats', () => {
  test('needs one more below 90: at 88, not at 92', async () => {
    const { type, beside } = await atTheWeir()
    await type('setup', '--breath', '8')
    expect((await beside(88)).line).toBe(
      'This breath lasts 8.2 s, you have 8. y: breathe at m. 42, beat 3 while below 90',
    )
    expect((await beside(60)).line).toBe(
      'This breath lasts 12 s, you have 8. y: breathe at m. 42, beat 3 while below 90',
    )
    expect(await beside(92)).toMatchObject({ line: '', asks: false })
  })

  test('y stores it in the piece; it counts in this visit and in every section that is cut from the passage', async () => {
    const { type, beside, breaths, json } = await atTheWeir()
    await type('setup', '--breath', '8')
    const { session, b, yes } = await beside(60)
    const { form, text } = await yes()
    expect(text).toBe('Stored: a breath at m. 42, beat 3, taken below 90.')
    expect(await breaths()).toEqual([{ at: '42.3', kind: 'slow-breath', below: '90' }])
    const on = { ...session, setup: { ...session.setup, form: form ?? session.setup.form } }
    expect([b.line(on), b.asks(on)]).toEqual(['', false])
    await type('piece', 'split', RUN, '--at', '42')
    const [, second] = (await json('piece', 'show', WEIR)).passages[0].sections
    expect(second).toMatchObject({ from: '42', breath: { next: { from: '42.3', to: 'end', seconds: 6 } } })
  })

  test('from a section it goes to its place in the passage, at the tempo of the passage', async () => {
    const { type, beside, breaths } = await atTheWeir('--tempo-mark', '42=half=46')
    await type('setup', '--breath', '2')
    await type('piece', 'split', RUN, '--at', '42')
    // From 42 on 46 halves are 92 quarters, two thirds of 138. Eight quarters in 2 s are 240 a minute.
    const there = await beside(92, `${RUN}/2`)
    expect(there.line).toContain('y: breathe at m. 43')
    expect(await there.yes()).toMatchObject({ text: 'Stored: a breath at m. 43.' })
    expect(await breaths()).toEqual([{ at: '43', kind: 'breath' }])
    await type('setup', '--breath', '8')
    await type('piece', 'edit', RUN, '--no-breath', 'all')
    // In 8 s they are 60 a minute, 30 halves: where the passage begins 90.
    expect((await beside(40, `${RUN}/2`)).line).toBe(
      'This breath lasts 12 s, you have 8. y: breathe at m. 43 while below 30',
    )
    expect((await (await beside(40, `${RUN}/2`)).yes()).text).toBe(
      'Stored: a breath at m. 43, taken below 30.',
    )
    expect(await breaths()).toEqual([{ at: '43', kind: 'slow-breath', below: '90' }])
    expect((await beside(40, `${RUN}/2`)).line).toBe('')
  })

  test.each([
    [RUN, '8', []],
    [RUN, '5.5', ['--breath', '42.2 slow below=60']],
    [RUN, '3', ['--breath', '43 bow']],
    [`${RUN}/2`, '3', []],
    [`${RUN}/2`, '2', ['--tempo-mark', '42=half=46']],
  ])('piece show proposes what y stores: %s, %s seconds, %j', async (name, seconds, edits) => {
    const { type, json, beside, breaths } = await atTheWeir(...edits)
    await type('setup', '--breath', seconds)
    await type('piece', 'split', RUN, '--at', '42')
    const [passage] = (await json('piece', 'show', WEIR)).passages
    const shown = name === RUN ? passage : passage.sections[1]
    const next = parseTempo(shown.next)
    await (
      await beside(next.ok ? toNumber(quarters(next.value)) / toNumber(quarters(tempo(1))) : 0, name)
    ).yes()
    const stored = (await breaths()).map(
      (b: { at: string; below?: string }) => b.at + (b.below ? ` slow below=${b.below}` : ''),
    )
    expect(stored).toContain(shown.tooLong.next.mark)
  })

  test('a slow breath that is there is taken below a higher tempo, not put in twice', async () => {
    const { type, beside, breaths } = await atTheWeir('--breath', '42.2 slow below=60')
    await type('setup', '--breath', '8')
    await (await beside(80)).yes()
    expect(await breaths()).toEqual([{ at: '42.2', kind: 'slow-breath', below: '90' }])
  })

  test('a quick ladder says it and has no key', async () => {
    const { type, beside, breaths } = await atTheWeir()
    await type('setup', '--breath', '8')
    const quick = await beside(60, { goal: '138', measures: '3' })
    expect(quick).toMatchObject({
      line: 'This breath lasts 12 s, you have 8. It takes one more below 90.',
      asks: false,
    })
    expect((await quick.yes()).text).toBe('There is no question right now.')
    expect(await breaths()).toEqual([])
  })

  test('a passage that was taken out meanwhile is said, and nothing is stored', async () => {
    const { type, beside } = await atTheWeir()
    await type('setup', '--breath', '8')
    const { yes } = await beside(60)
    await type('piece', 'remove', WEIR)
    expect((await yes()).text).toContain('changed or removed this passage in the meantime')
  })

  test.each(['0', '601', 'deep', '-1'])('setup --breath %j is refused in one sentence', async seconds => {
    const { type, settings } = await atTheWeir()
    const said = await type('setup', '--breath', seconds)
    expect(said).toMatchObject({ status: 2, out: '' })
    expect(said.err).toContain(`"${seconds}" doesn't work for --breath. Try seconds from 1 to 600`)
    expect((await settings()).breath).toBeUndefined()
  })
})

describe('without a word from the player the longest breath done clean is the measure', () => {
  test('where places to breathe are marked: else nobody knows where one was taken', async () => {
    const marked = await atTheWeir('--breath', '43')
    await done(marked.home, 7.5)
    // Eight quarters at 38 take 12.6 s, 7.5 at 64.
    expect((await marked.beside(38)).line).toBe(
      'This breath lasts 12.6 s, your longest clean is 7.5. y: breathe at m. 42 while below 64',
    )
    // Twelve seconds at 40, and eight at 60: nobody is told that it is too long.
    expect([(await marked.beside(40)).line, (await marked.beside(60)).line]).toEqual(['', ''])
    const unmarked = await atTheWeir()
    await done(unmarked.home, 7.5)
    expect((await unmarked.beside(38)).line).toBe('')
  })

  test('nothing is said before anything was done, and what was done with the same breath is enough', async () => {
    const { home, beside } = await atTheWeir('--breath', '43')
    expect((await beside(60)).line).toBe('')
    // 7.273 s at 66 are kept as 7.27: the same breath is not longer than itself.
    await done(home, 7.27)
    expect((await beside(66)).line).toBe('')
    expect((await beside(38)).line).toContain('your longest clean is 7.3. y: breathe')
  })

  test('piece show says it beside the seconds in one breath', async () => {
    const { home, type, json } = await atTheWeir('--breath', '43')
    expect((await type('piece', 'show', WEIR)).out).not.toContain('done clean')
    await done(home, 7.5)
    expect((await type('piece', 'show', WEIR)).out).toContain(
      'in one breath 3.5 s (m. 41 to m. 43) at quarter = 138, 8 s (m. 41 to m. 43) at quarter = 60; longest done clean 7.5 s',
    )
    expect(await json('piece', 'show', WEIR)).toMatchObject({ longestClean: 7.5 })
    await done(home, 20, 'silent section mill even')
    expect(await json('piece', 'show', WEIR)).toMatchObject({ longestClean: 7.5 })
  })
})

describe('what is played', () => {
  test('strings have a bow, with words of the bow; marks of a new bow are places too', async () => {
    const { type, beside, breaths } = await atTheWeir('--breath', '43 bow')
    await type('setup', '--instrument', 'cello', '--breath', '6')
    const at = await beside(60)
    expect(at.line).toBe('This bow lasts 8 s, you have 6. y: change bow at m. 42 while below 80')
    expect((await at.yes()).text).toBe('Stored: a new bow at m. 42, taken below 80.')
    expect(await breaths()).toContainEqual({ at: '42', kind: 'slow-breath', below: '80', word: 'new bow' })
    expect((await type('piece', 'show', WEIR)).out).toContain('in one bow ')
  })

  test.each(['piano', 'marimba', 'guitar'])('for a %s breath says nothing', async instrument => {
    const { type, beside, settings } = await atTheWeir('--breath', '43')
    await type('setup', '--instrument', instrument, '--breath', '2')
    const { line, asks, target } = await beside(60)
    expect([line, asks, airIsKnown(target, await settings())]).toEqual(['', false, false])
    expect((await type('piece', 'show', WEIR)).out).not.toContain('in one')
  })
})

describe('y after the third stop in a measure', () => {
  test('makes a section from one measure before to over the first beat of the next one', async () => {
    const { beside, json } = await atTheWeir()
    const { b, session } = await beside(60)
    expect((await b.yes(session, '42')).text).toBe(
      'Section 41-42 is made, m. 41 to m. 43, beat 2: it has its own ladder from now on.',
    )
    const sections = async () => (await json('piece', 'show', WEIR)).passages[0].sections
    expect(await sections()).toMatchObject([{ name: '41-42', from: '41', to: '43.2' }])
    // Its ladder is found by its name.
    expect((await beside(60, `${RUN}/41-42`)).target.numbers).toEqual(['41', '42', '43'])
    expect((await b.yes(session, '42')).text).toBe('You already have a section: m. 41 to m. 43, beat 2.')
    expect(await sections()).toHaveLength(1)
  })

  test('in the first measure from there, in the last to the end, and in a section as it stands in the passage', async () => {
    const { type, beside, json } = await atTheWeir()
    const { b, session } = await beside(60)
    expect((await b.yes(session, '41')).text).toContain('Section 41 is made, m. 41 to m. 42, beat 2')
    expect((await b.yes(session, '43')).text).toContain('Section 42-43 is made, m. 42 to the end')
    await type('piece', 'edit', RUN, '--no-section', 'all')
    await type('piece', 'split', RUN, '--at', '43')
    const inside = await beside(60, `${RUN}/2`)
    expect((await inside.b.yes(inside.session, '43')).text).toContain(
      'Section 42-43 is made, m. 42 to the end',
    )
    expect((await json('piece', 'show', WEIR)).passages[0].sections).toHaveLength(3)
  })

  test('a quick ladder has no sections', async () => {
    const { beside } = await atTheWeir()
    const { b, session } = await beside(60, { goal: '138', measures: '3' })
    expect(b.stuck('2')).toBe('Stopped three times in m. 2.')
    expect((await b.yes(session, '2')).text).toBe('Save this as a passage first; then it can have sections.')
  })
})

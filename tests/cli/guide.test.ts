import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { head, mark, note, rest, scoreText, time } from '../score/scores.ts'
import { folder, WEIR } from './import-scene.ts'

const tie = (type: string) => `<tie type="${type}"/>`
const four = [1, 1, 1, 1].map(d => note(d)).join('')
const grace = '<note><grace/><pitch><step>D</step><octave>5</octave></pitch><voice>1</voice></note>'

/** A pick-up of four sixteenths; three measures in 2/4: groups, a tie into a group, long notes; and one in 3/8. */
const part = [
  {
    attrs: 'number="0" implicit="yes"',
    inside: `${head('2', 4)}${mark('quarter', '60')}${four}`,
  },
  { attrs: 'number="1"', inside: four + note(4) },
  { attrs: 'number="2"', inside: note(4, tie('start')) + note(1, tie('stop')) + note(1) + note(1) + note(1) },
  { attrs: 'number="3"', inside: grace + note(2) + rest(2) + four },
  {
    attrs: 'number="4"',
    inside: `<attributes>${time('3', 8)}</attributes>${note(2) + note(2) + note(2)}`,
  },
]

const scene = async () => {
  const who = folder()
  await who.type('piece', 'import', who.put('weir.xml', scoreText(part)))
  const render = async (...typed: string[]) => {
    const [out, table] = ['a.mid', 'a.json'].map(n => join(who.home, n)) as [string, string]
    const said = await who.type(
      'render',
      ...typed,
      '--count-in',
      '0',
      '--tempo',
      '60',
      '--out',
      out,
      '--onsets',
      table,
    )
    const taps = said.status === 0 ? JSON.parse(readFileSync(table, 'utf8')) : []
    const guide = taps.filter((o: { role: string }) => o.role === 'guide')
    return { ...said, seconds: guide.map((o: { seconds: number }) => Number(o.seconds.toFixed(3))) }
  }
  return { ...who, render, whole: `${WEIR}/whole part` }
}

// at quarter = 60 a quarter of a whole note is a second
const WRITTEN = [
  0, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 1.75, 2, 3, 4.25, 4.5, 4.75, 5, 6, 6.25, 6.5, 6.75, 7, 7.5, 8,
]

test('an imported part taps its rhythm: ties once, no grace notes, rests silent', async () => {
  const { render, whole } = await scene()
  const { seconds, out } = await render(whole, '--guide', 'notes')
  expect(seconds).toEqual(WRITTEN)
  expect(out).toContain('the guide taps the notes')
})

test('so does a section that begins inside a note, from that note on', async () => {
  const { render, whole, type } = await scene()
  await type('piece', 'edit', whole, '--section', 'tied=2.2 to 3')
  expect((await render(`${whole}/tied`, '--guide', 'notes')).seconds).toEqual([0, 0.25, 0.5, 0.75])
})

test('a passage may keep it so; --guide none leaves it out once', async () => {
  const { render, whole, type, json } = await scene()
  await type('piece', 'edit', whole, '--guide', 'notes')
  expect((await json('piece', 'show', WEIR)).passages[0].guide).toBe('notes')
  expect((await render(whole)).seconds).toEqual(WRITTEN)
  expect((await render(whole, '--guide', 'none')).seconds).toEqual([])
})

test('an altered rhythm is heard in its groups; all else as written, and it is said how many and where', async () => {
  const { render, whole } = await scene()
  const { seconds, out } = await render(whole, '--rhythm', '3:1:1:1')
  expect(out).toContain('3 groups of four 16ths altered; m. 2, 4 as written')
  const group = (at: number) => [0, 1 / 2, 2 / 3, 5 / 6].map(s => Number((at + s).toFixed(3)))
  expect(seconds).toEqual([...group(0), ...group(1), 2, 3, 4.25, 4.5, 4.75, 5, ...group(6), 7, 7.5, 8])
})

test('a rhythm that fits no group is refused with the groups that are there', async () => {
  const { render, whole } = await scene()
  const { status, err } = await render(whole, '--rhythm', '5:1:1:1:1:1')
  expect(status).toBe(2)
  expect(err).toBe(
    'gradino: "5:1:1:1:1:1" doesn\'t work for the rhythm. Try a rhythm for the groups that stand here: two, four 16ths; three eighths.\n',
  )
})

test('without notes the guide has none to tap', async () => {
  const { type, render } = await scene()
  await type('piece', 'add', 'Reed', '--in', '1-4', '--goal', '90')
  const { status, err } = await render('Reed/1-4', '--guide', 'notes')
  expect([status, err]).toEqual([
    2,
    'gradino: Only a part that was read has notes to tap (gradino piece import). Leave out --guide.\n',
  ])
  expect((await render(`${WEIR}/whole part`, '--guide', 'loud')).err).toContain('Try notes or none')
})

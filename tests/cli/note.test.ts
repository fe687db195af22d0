import { describe, expect, test } from 'vitest'
import { PAIN_TEXT } from '../../src/plan/words.ts'
import { player } from './typed.ts'

const withPiece = async () => {
  const p = player()
  await p.type('piece', 'add', 'Weir Street Overture', '--passage', 'run', '--in', '41-44', '--goal', '138')
  return p
}

describe('the player notes', () => {
  test('in plain words, quoted or not', async () => {
    const { type, json } = await withPiece()
    expect((await type('note', 'soft', 'reed', 'today')).out).toBe('Noted.\n')
    expect((await type('note', 'where to breathe?', '--teacher', '--for', 'weir/run')).out).toBe(
      'Noted for the teacher.\n',
    )
    expect((await type('note', 'scales first', '--tomorrow', '--for', 'Weir Street Overture')).status).toBe(0)
    await type('note', '--wrong', 'rhythm', '--at', '43.2', 'too', 'early', '--for', 'weir/run')
    // The clock of these commands stands still, so their order is chance.
    const [day, ...lines] = (await type('notes')).out.trimEnd().split('\n')
    expect(day).toBe('Saturday, March 15')
    expect(lines.sort()).toEqual([
      '  for the teacher: where to breathe? (Weir Street Overture, run, m. 41-44)',
      '  for tomorrow: scales first (Weir Street Overture)',
      '  soft reed today',
      '  went wrong: rhythm, m. 43, beat 2: too early (Weir Street Overture, run, m. 41-44)',
    ])
    const { notes } = await json('notes')
    expect(notes.map((n: { kind: string }) => n.kind).sort()).toEqual([
      'note',
      'teacher',
      'tomorrow',
      'wrong',
    ])
    expect(notes.every((n: { day: string }) => n.day === '2031-03-15')).toBe(true)
  })

  test('pain, with a word or without, and is told to stop', async () => {
    const { type } = player()
    expect((await type('note', '--pain')).out).toBe(`Noted. ${PAIN_TEXT}\n`)
    expect((await type('note', '--pain', 'left wrist')).out).toBe(`Noted. ${PAIN_TEXT}\n`)
    expect(PAIN_TEXT).toMatch(/^Stop for today, and see a physician or therapist who treats musicians\.$/)
    expect((await type('notes')).out.split('\n').sort()).toEqual(
      expect.arrayContaining(['  pain', '  pain: left wrist']),
    )
  })

  test('and takes back: the latest of today, or any by its id; ids are shown when they are asked for', async () => {
    const { type, json } = await withPiece()
    await type('note', '--wrong', 'rhythm', '--at', '43.2', '--for', 'weir/run')
    expect((await type('note', '--take-back')).out).toBe(
      'Taken back: went wrong: rhythm, m. 43, beat 2 (Weir Street Overture, run, m. 41-44).\n',
    )
    expect((await type('notes')).out).toContain('No notes yet.')
    await type('note', 'first')
    await type('note', 'second')
    const { notes } = await json('notes')
    const { id } = notes.find((n: { text: string }) => n.text === 'first')
    expect((await type('notes')).out).not.toContain(id)
    expect((await type('notes', '--ids')).out).toContain(`  first   ${id}`)
    expect((await type('note', '--take-back', id)).out).toBe('Taken back: first.\n')
    expect((await type('notes')).out).toBe('Saturday, March 15\n  second\n')
    const again = await type('note', '--take-back', id)
    expect(again.status).toBe(2)
    expect(again.err).toContain('an id from gradino notes --ids')
    expect((await type('note', '--take-back', '--pain')).err).toContain('it alone')
    await type('note', '--take-back')
    expect((await type('note', '--take-back')).err).toContain('no note from today')
  })

  test('nothing unclear: one sentence says what is accepted', async () => {
    const { type } = await withPiece()
    const refused = async (...argv: string[]) => {
      const { status, out, err } = await type('note', ...argv)
      expect({ status, out }).toEqual({ status: 2, out: '' })
      return err
    }
    expect(await refused()).toBe('gradino: The note is missing. Type a word or a sentence.\n')
    expect(await refused('x', '--tomorrow', '--teacher')).toContain('one of --tomorrow, --teacher')
    expect(await refused('x', '--wrong', 'pitch')).toContain('notes, rhythm, breath, bow, sound')
    expect(await refused('x', '--at', '43')).toContain('Add --wrong')
    expect(await refused('x'.repeat(401))).toContain('at most 400 characters')
    expect(await refused('x', '--for', 'Coda')).toContain('Weir Street Overture')
    expect((await type('notes')).out).toContain('No notes yet.')
  })
})

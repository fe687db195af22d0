import { describe, expect, test } from 'vitest'
import { keepAnswers } from '../../src/app/change-day.ts'
import { contextFrom } from '../../src/app/context.ts'
import { readPracticed } from '../../src/app/now.ts'
import { ok } from '../../src/music/result.ts'
import { readNotes } from '../../src/store/notes.ts'
import { repertoire } from '../../src/store/repertoire.ts'
import { NOON, player } from '../cli/typed.ts'

const WEIR = 'Weir Street Overture'
const nothing = { tempo: '', spots: '', next: '' }

/** After a date that is past: it was set while it was still ahead. */
const afterwards = async () => {
  const p = player()
  await p.type(`piece add "${WEIR}" --passage coda --in 60-65 --goal 120 --ready-by 2031-03-15`)
  const ctx = contextFrom({ home: p.home }, { GRADINO_NOW: NOON.replace('-15T', '-17T') })
  const piece = async () => {
    const [kept] = (await repertoire(ctx.home).list()).pieces
    if (!kept) throw new Error('no piece')
    return kept.piece
  }
  const before = await piece()
  const question = { piece: WEIR, readyBy: '2031-03-15', keys: [] }
  return {
    ctx,
    piece,
    answer: async (a: object) =>
      keepAnswers(ctx, await readPracticed(ctx), before, question, { ...nothing, ...a }),
  }
}

describe('How was it?', () => {
  test('true tempo: all goals follow; spots: a note of the piece; next date: the piece has it', async () => {
    const { ctx, piece, answer } = await afterwards()
    expect(await answer({ tempo: '108', spots: 'pick-up late', next: '2031-04-02' })).toEqual(
      ok('Kept: the true tempo, the spots, the next date.'),
    )
    const now = await piece()
    expect(now.passages[0]?.goal).toBe('108')
    expect(now.passages[0]?.readyBy ?? now.readyBy).toBe('2031-04-02')
    expect((await readNotes(ctx.home)).notes).toMatchObject([
      { kind: 'note', text: 'After March 15: pick-up late', piece: now.id },
    ])
  })

  test('each can be left out', async () => {
    const { ctx, piece, answer } = await afterwards()
    const before = await piece()
    expect(await answer({})).toMatchObject({ value: expect.stringContaining("won't be asked again") })
    expect(await piece()).toEqual(before)
    expect((await readNotes(ctx.home)).notes).toEqual([])
  })

  test('a date that cannot be is refused before anything else is kept', async () => {
    const { ctx, piece, answer } = await afterwards()
    const past = await answer({ tempo: '108', spots: 'late', next: '2031-03-01' })
    expect(past).toMatchObject({ problem: { says: expect.stringContaining('is past') } })
    expect((await piece()).passages[0]?.goal).toBe('120')
    expect((await readNotes(ctx.home)).notes).toEqual([])
    expect(await answer({ tempo: 'fast', spots: 'late' })).toMatchObject({ problem: { got: 'fast' } })
    expect((await readNotes(ctx.home)).notes).toEqual([])
  })
})

import { describe, expect, it } from 'vitest'
import { formSeconds } from '../../src/click/tempo-map.ts'
import { changesFromText, parseChangesFrom, playedForm, steadyForm } from '../../src/music/changes.ts'
import type { Form } from '../../src/music/form.ts'
import { frac, zero } from '../../src/music/fraction.ts'
import { related, typed } from '../../src/music/tempo.ts'
import { framesOf, music, nearest, played, tempoOf } from '../click/support.ts'

/** Two measures at 120, a ritardando of one measure to 60, one measure at 60. */
const form: Form = {
  ...music('4/4', 4, '120'),
  marks: [
    { at: zero, tempo: tempoOf('120') },
    { at: frac(2), tempo: tempoOf('120'), ramp: true },
    { at: frac(3), tempo: tempoOf('60') },
  ],
}

describe('tempo changes', () => {
  it('are left out below four fifths of the goal, and played from there on', () => {
    const goal = tempoOf('120')
    expect(playedForm(form, tempoOf('95.9'), goal).marks).toHaveLength(1)
    expect(playedForm(form, tempoOf('96'), goal)).toBe(form)
    expect(playedForm(form, tempoOf('half=48'), goal)).toBe(form)
    const half = { ...form, changesFrom: frac(1, 2) }
    expect(playedForm(half, tempoOf('60'), goal)).toBe(half)
    expect(playedForm(half, tempoOf('59'), goal).marks).toHaveLength(1)
    const always = { ...form, changesFrom: zero }
    expect(playedForm(always, tempoOf('1'), goal)).toBe(always)
  })

  it('left out, all measures last alike', () => {
    expect(formSeconds(steadyForm(form), tempoOf('60'))).toBe(16)
    expect(steadyForm(music('4/4', 2, '90'))).toEqual(music('4/4', 2, '90'))
  })

  it('left out, each stretch is still counted in its own note value', () => {
    const two: Form = {
      ...music('4/4', 2, '120'),
      marks: [
        { at: zero, tempo: tempoOf('120') },
        { at: frac(1), tempo: tempoOf('half=90') },
      ],
    }
    expect(steadyForm(two).marks).toEqual([
      { at: zero, tempo: tempoOf('120') },
      { at: frac(1), tempo: tempoOf('half=60') },
    ])
    const p = played(steadyForm(two), {}, '60')
    expect(framesOf(p)).toEqual(nearest([0, 1, 2, 3, 4, 6]))
  })
})

describe('a note value equals another', () => {
  it('eighth = eighth: the beat changes, the eighths do not', () => {
    expect(typed(related(tempoOf('dotted-quarter=84'), frac(1, 8), frac(1, 8), frac(1, 4)))).toBe('126')
  })

  it('quarter = dotted quarter: the beat keeps its length', () => {
    expect(typed(related(tempoOf('92'), frac(1, 4), frac(3, 8)))).toBe('dotted-quarter=92')
  })

  it('half = quarter: twice as slow to the ear', () => {
    expect(typed(related(tempoOf('112'), frac(1, 2), frac(1, 4)))).toBe('56')
  })
})

it('tempo changes are played always, or from 1 to 100 % of the goal on', () => {
  const read = (text: string) => {
    const r = parseChangesFrom(text)
    return r.ok ? r.value : null
  }
  expect(['always', ' Always ', '60%', '1 %', '100%'].map(read)).toEqual([
    zero,
    zero,
    frac(3, 5),
    frac(1, 100),
    frac(1),
  ])
  for (const none of ['0%', '101%', '60', 'never', '', '-5%', '1000%']) expect(read(none), none).toBeNull()
})

it.each(['always', '1%', '60%', '100%'])('%s is said as it is typed', text => {
  const r = parseChangesFrom(text)
  expect(r.ok && changesFromText(r.value)).toBe(text)
})

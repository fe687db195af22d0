import type { CompileOptions } from '../../src/click/program.ts'
import type { Form } from '../../src/music/form.ts'
import { frac } from '../../src/music/fraction.ts'
import { music, tempoOf } from '../click/support.ts'

/**
 * Rhythms rendered once by other programs and read back from their MIDI files: seconds from the first onset.
 * abc2midi 4.84 (Debian abcmidi 20230208), LilyPond 2.24.1 and abcjs 6.7.2 agreed on these within 0.005 ms, except where
 * `without` says who could not be asked. `abc` is the source text (ours) for the live renderer, body only.
 */
export type OnsetTable = {
  readonly name: string
  readonly abc: string
  readonly form: Form
  readonly guide?: NonNullable<CompileOptions['guide']>
  readonly subdivide?: number
  readonly seconds: readonly number[]
  /** Why the live renderer is not asked, or nothing. */
  readonly notLive?: string
}

const quarter = frac(1, 4)
const sixUnits = frac(3, 8)

const tempoChange: Form = {
  ...music('4/4', 3, '60'),
  marks: [
    { at: frac(0), tempo: tempoOf('60') },
    { at: frac(1), tempo: tempoOf('92') },
    { at: frac(2), tempo: tempoOf('half=60') },
  ],
}

export const ONSET_TABLES: readonly OnsetTable[] = [
  {
    name: 'dotted, 4/4 at quarter = 92',
    abc: 'M:4/4\nL:1/16\nQ:1/4=92\nK:C\nC3 D E3 F G3 A B3 c|',
    form: music('4/4', 1, '92'),
    guide: { ratios: [3, 1], group: quarter },
    seconds: [0, 0.48913, 0.652174, 1.141304, 1.304348, 1.793478, 1.956522, 2.445652],
  },
  {
    name: 'short-long, 4/4 at quarter = 92',
    abc: 'M:4/4\nL:1/16\nQ:1/4=92\nK:C\nC D3 E F3 G A3 B c3|',
    form: music('4/4', 1, '92'),
    guide: { ratios: [1, 3], group: quarter },
    seconds: [0, 0.163043, 0.652174, 0.815217, 1.304348, 1.467391, 1.956522, 2.119565],
  },
  {
    name: '5/8 at eighth = 184',
    abc: 'M:5/8\nL:1/8\nQ:1/8=184\nK:C\nC D E F G|A B c d e|',
    form: music('5/8', 2, 'eighth=184'),
    seconds: [0, 0.326087, 0.652174, 0.978261, 1.304348, 1.630435, 1.956522, 2.282609, 2.608696, 2.934783],
  },
  {
    name: '7/8 as 2+2+3 at eighth = 208',
    abc: 'M:7/8\nL:1/8\nQ:1/8=208\nK:C\nC D E F G A B|',
    form: music('2+2+3/8', 1, 'eighth=208'),
    seconds: [0, 0.288462, 0.576923, 0.865385, 1.153846, 1.442308, 1.730769],
  },
  {
    name: '6/8 at dotted quarter = 80',
    abc: 'M:6/8\nL:1/8\nQ:3/8=80\nK:C\nCDE FGA|Bcd efg|',
    form: music('6/8', 2, 'dotted-quarter=80'),
    subdivide: 3,
    seconds: [0, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 1.75, 2, 2.25, 2.5, 2.75],
  },
  {
    name: 'tempo marks 60, 92, half = 60',
    abc: '',
    form: tempoChange,
    guide: { ratios: [1], group: quarter },
    seconds: [0, 1, 2, 3, 4, 4.652174, 5.304348, 5.956522, 6.608696, 7.108696, 7.608696, 8.108696],
    notLive: 'abcjs scales ticks at a tempo change and is 0.36 ms off after 4 s',
  },
  {
    name: 'one long and three short, quarter = 60',
    abc: 'M:3/4\nL:1/16\nQ:1/4=60\nK:C\nC3DEF G3ABc|',
    form: music('3/4', 1, '60'),
    guide: { ratios: [3, 1, 1, 1], group: sixUnits },
    seconds: [0, 0.75, 1, 1.25, 1.5, 2.25, 2.5, 2.75],
  },
  {
    name: 'three short and one long, quarter = 60',
    abc: 'M:3/4\nL:1/16\nQ:1/4=60\nK:C\nCDEF3 GABc3|',
    form: music('3/4', 1, '60'),
    guide: { ratios: [1, 1, 1, 3], group: sixUnits },
    seconds: [0, 0.25, 0.5, 0.75, 1.5, 1.75, 2, 2.25],
  },
  {
    name: 'triplet long-short 2:1, quarter = 120',
    abc: 'M:2/4\nL:1/8\nQ:1/4=120\nK:C\n(3:2:2C2D (3:2:2E2F|',
    form: music('2/4', 1, '120'),
    guide: { ratios: [2, 1], group: quarter },
    seconds: [0, 0.333333, 0.5, 0.833333],
  },
  {
    // abc standard 2.1, section 4.4: after ">" the first note is dotted and the second halved; "<" the reverse.
    name: 'broken rhythm > > < <, quarter = 120',
    abc: 'M:4/4\nL:1/8\nQ:1/4=120\nK:C\nC>D E>F G<A B<c|',
    form: music('4/4', 1, '120'),
    guide: { ratios: [3, 1, 3, 1, 1, 3, 1, 3], group: frac(1) },
    seconds: [0, 0.375, 0.5, 0.875, 1, 1.125, 1.5, 1.625],
  },
  {
    name: 'quintuplet, quarter = 120',
    abc: 'M:4/4\nL:1/8\nQ:1/4=120\nK:C\n(5:2:5CDEFG (5:2:5ABcde|',
    form: music('2/4', 1, '120'),
    subdivide: 5,
    seconds: [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9],
  },
  {
    name: 'alla breve, half = 60, in quarters',
    abc: '',
    form: music('2/2', 1, 'half=60'),
    subdivide: 2,
    seconds: [0, 0.5, 1, 1.5],
    notLive: 'abcjs writes quarter = 60 for it; abc2midi and LilyPond agree on 500000 us a quarter',
  },
]

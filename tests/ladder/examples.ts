import type { Rules } from '../../src/ladder/rules.ts'
import { bpm, type Ladder, play, rules, script, tempoNow } from './live.ts'

/** Where a player stands, in quarters a minute. */
export type Standing = {
  readonly tempo: number
  readonly row: number
  readonly slips: number
  readonly drops: number
  readonly ceiling: number | null
  readonly goal: boolean
  readonly finding: boolean
}

export type Example = {
  readonly says: string
  readonly rungs?: readonly number[]
  readonly from?: number
  readonly rules?: Partial<Rules>
  readonly play: string
  readonly gives: Partial<Standing>
}

const RUNGS = [96, 100, 104, 108, 112, 116, 120]
const IN_ALL: Partial<Rules> = { up: { kind: 'total', n: 3 } }
const OF_FIVE: Partial<Rules> = { up: { kind: 'most', n: 4, of: 5 } }
const FIND: Partial<Rules> = { find: true }
const SCALE = [60, 63, 66, 69, 72, 76, 80, 84, 88, 92, 96, 100]

/** From 108 on a ladder of 96 to 120, three in a row, two slips, five at the top, unless the example says else. */
export const EXAMPLES: readonly Example[] = [
  {
    says: 'three clean in a row climb, and 108 is reached',
    play: 'CCC',
    gives: { tempo: 112, row: 0, ceiling: 108 },
  },
  {
    says: 'a slip empties the row: after it three more are needed',
    play: 'CCNCC',
    gives: { tempo: 108, row: 2 },
  },
  {
    says: 'clean clean slip clean clean clean climbs',
    play: 'CCNCCC',
    gives: { tempo: 112, row: 0, ceiling: 108 },
  },
  { says: 'two climbs in a row', play: 'CCCCCC', gives: { tempo: 116, ceiling: 112, drops: 0 } },

  { says: 'one slip stays', play: 'CN', gives: { tempo: 108, row: 0, slips: 1 } },
  {
    says: 'two slips in a row fall one rung',
    play: 'CNN',
    gives: { tempo: 104, slips: 0, drops: 1, ceiling: null },
  },
  { says: 'two cut short as well', play: 'MM', gives: { tempo: 104, drops: 1 } },
  { says: 'a clean one between two slips forgives', play: 'NCNC', gives: { tempo: 108, slips: 0, drops: 0 } },
  { says: 'again without a clean one: two rungs', play: 'NNNN', gives: { tempo: 96, drops: 2 } },
  { says: 'with a clean one between: one rung again', play: 'NNCNN', gives: { tempo: 100, drops: 2 } },
  { says: 'sinking goes on until a clean one', from: 120, play: 'NNNNNN', gives: { tempo: 100, drops: 3 } },
  { says: 'two rungs below 100 is the lowest', from: 104, play: 'NNNN', gives: { tempo: 96, drops: 2 } },
  {
    says: 'three slips for a rule of three',
    rules: { slips: 3 },
    play: 'NN',
    gives: { tempo: 108, slips: 2 },
  },
  {
    says: 'never down for a rule of never',
    rules: { slips: 0 },
    play: 'NNNNN',
    gives: { tempo: 108, drops: 0 },
  },
  { says: 'a fall takes nothing from the ceiling', play: 'CCCNN', gives: { tempo: 108, ceiling: 108 } },
  { says: 'three drops are counted', play: 'NNCNNCNN', gives: { tempo: 96, drops: 3 } },

  {
    says: 'at the lowest rung the tempo stays',
    from: 96,
    play: 'NN',
    gives: { tempo: 96, slips: 0, drops: 1 },
  },
  { says: 'and slips begin anew there', from: 96, play: 'NNN', gives: { tempo: 96, slips: 1, drops: 1 } },
  {
    says: 'what was counted in all stays',
    from: 96,
    rules: IN_ALL,
    play: 'CCNNC',
    gives: { tempo: 100, ceiling: 96 },
  },
  {
    says: 'and so do the last five',
    from: 96,
    rules: { ...OF_FIVE, slips: 1 },
    play: 'CCCNC',
    gives: { tempo: 100, ceiling: 96, drops: 1 },
  },

  { says: 'unanswered: the row is empty, no slip', play: 'CSCC', gives: { tempo: 108, row: 2, slips: 0 } },
  { says: 'unanswered twice is not two slips', play: 'SSS', gives: { tempo: 108, slips: 0, drops: 0 } },
  { says: 'interrupted: the row is left alone', play: 'CICC', gives: { tempo: 112, ceiling: 108 } },
  { says: 'both pedals: not counted', play: 'CVCC', gives: { tempo: 112, ceiling: 108 } },

  {
    says: 'taking back the third gives the rung back too',
    play: 'CCCU',
    gives: { tempo: 108, row: 2, ceiling: null },
  },
  { says: 'taking back again takes the one before', play: 'CCCUU', gives: { tempo: 108, row: 1 } },
  { says: 'a taken back slip gives the row back', play: 'CCNU', gives: { row: 2, slips: 0 } },
  { says: 'a taken back fall leads up again', play: 'NNU', gives: { tempo: 108, slips: 1, drops: 0 } },
  { says: 'nothing left to take back', play: 'CUU', gives: { tempo: 108, row: 0 } },
  { says: 'taken back and played again', play: 'CCCUC', gives: { tempo: 112, ceiling: 108 } },
  { says: 'corrected to not clean', play: 'CCX', gives: { row: 0, slips: 1 } },
  { says: 'corrected to clean', play: 'CCNX', gives: { tempo: 112, ceiling: 108 } },
  { says: 'corrected twice is as it was', play: 'CCXX', gives: { row: 2, slips: 0 } },
  { says: 'one cut short cannot become clean', play: 'CCMX', gives: { row: 0, slips: 1 } },
  { says: 'a line written twice counts once', play: 'CRCR', gives: { tempo: 108, row: 2 } },

  {
    says: 'the goal needs five in a row',
    from: 120,
    play: 'CCCC',
    gives: { row: 4, ceiling: null, goal: false },
  },
  {
    says: 'five, and the goal is the ceiling',
    from: 120,
    play: 'CCCCC',
    gives: { tempo: 120, row: 0, ceiling: 120, goal: true },
  },
  { says: 'four and a slip are not five', from: 120, play: 'CCCCNCCCC', gives: { row: 4, goal: false } },
  {
    says: 'five in a row there for any rule',
    from: 120,
    rules: IN_ALL,
    play: 'CCNCCC',
    gives: { row: 3, goal: false },
  },
  { says: 'or four of five', from: 120, rules: OF_FIVE, play: 'CCCC', gives: { row: 4, goal: false } },
  {
    says: 'after the goal the row starts anew',
    from: 120,
    play: 'CCCCCCC',
    gives: { tempo: 120, row: 2, goal: true },
  },
  {
    says: 'a reached goal stays reached',
    from: 120,
    play: 'CCCCCNN',
    gives: { tempo: 116, ceiling: 120, goal: true },
  },
  {
    says: 'climbing to the goal is not reaching it',
    from: 116,
    play: 'CCCCCCC',
    gives: { row: 4, ceiling: 116, goal: false },
  },
  {
    says: 'a ladder of one rung is all goal',
    rungs: [108],
    play: 'CCCCC',
    gives: { tempo: 108, ceiling: 108, goal: true },
  },

  { says: 'three in all, slips between', rules: IN_ALL, play: 'CNCNC', gives: { tempo: 112, ceiling: 108 } },
  { says: 'in all: unanswered takes nothing away', rules: IN_ALL, play: 'CCSC', gives: { tempo: 112 } },
  { says: 'in all: a fall does', rules: IN_ALL, play: 'CCNNC', gives: { tempo: 104, ceiling: null } },
  {
    says: 'four of five are met at four of four',
    rules: OF_FIVE,
    play: 'CCCC',
    gives: { tempo: 112, ceiling: 108 },
  },
  { says: 'four of five', rules: OF_FIVE, play: 'CCNCC', gives: { tempo: 112, ceiling: 108 } },
  {
    says: 'four of six are not four of five',
    rules: OF_FIVE,
    play: 'CNCNCC',
    gives: { tempo: 108, ceiling: null },
  },
  { says: 'the last five, not the first', rules: OF_FIVE, play: 'CNCNCCC', gives: { tempo: 112 } },

  { says: 'a tempo by hand empties the row', play: 'CC[112]', gives: { tempo: 112, row: 0, ceiling: null } },
  { says: 'and the slips', play: 'N[112]N', gives: { tempo: 112, slips: 1, drops: 0 } },
  { says: 'to where one is already changes nothing', play: 'CC[108]', gives: { tempo: 108, row: 2 } },
  { says: 'a rung reached by hand can be completed', play: '[116]CCC', gives: { tempo: 120, ceiling: 116 } },
  { says: 'a tempo between rungs becomes a rung', play: '[106]CCC', gives: { tempo: 108, ceiling: 106 } },
  { says: 'a tempo below all as well', play: '[80]NN', gives: { tempo: 80, drops: 1 } },
  { says: 'nothing above the top', play: 'C[126]', gives: { tempo: 108, row: 1 } },
  { says: 'lower by hand keeps the ceiling', play: 'CCC[96]CCC', gives: { tempo: 100, ceiling: 108 } },
  {
    says: 'a repetition that ran at the old tempo does not count',
    play: '[112>C]CC',
    gives: { tempo: 112, row: 2 },
  },
  { says: 'neither as a slip', play: 'N[112>N]N', gives: { tempo: 112, slips: 1, drops: 0 } },
  { says: 'taking back passes a tempo by hand by', play: 'CC[112]CUU', gives: { tempo: 112, row: 0 } },

  {
    says: 'a lost line empties the row',
    rules: { up: { kind: 'row', n: 4 } },
    play: 'CCC~C',
    gives: { tempo: 108, row: 1 },
  },
  { says: 'and what was counted in all', rules: IN_ALL, play: 'CC~C', gives: { tempo: 108, ceiling: null } },
  { says: 'and the last five', rules: OF_FIVE, play: 'CCC~C', gives: { tempo: 108, ceiling: null } },
  { says: 'a lost first line as well', play: '~CCC', gives: { tempo: 112, ceiling: 108 } },

  {
    says: 'finding: three notches up',
    rungs: SCALE,
    from: 72,
    rules: FIND,
    play: 'C',
    gives: { tempo: 84, row: 0, finding: true },
  },
  {
    says: 'finding: two down',
    rungs: SCALE,
    from: 72,
    rules: FIND,
    play: 'N',
    gives: { tempo: 66, drops: 0, finding: true },
  },
  {
    says: 'the first clean one after one not clean is the start',
    rungs: SCALE,
    from: 72,
    rules: FIND,
    play: 'CCNC',
    gives: { tempo: 88, row: 0, ceiling: null, finding: false },
  },
  {
    says: 'there the counting begins',
    rungs: SCALE,
    from: 72,
    rules: FIND,
    play: 'CCNCCCC',
    gives: { tempo: 92, ceiling: 88, finding: false },
  },
  {
    says: 'not below the lowest',
    rungs: SCALE,
    from: 63,
    rules: FIND,
    play: 'NN',
    gives: { tempo: 60, finding: true },
  },
  {
    says: 'clean up to the goal: the goal is the start',
    rungs: SCALE,
    from: 92,
    rules: FIND,
    play: 'CC',
    gives: { tempo: 100, row: 0, ceiling: null, goal: false, finding: false },
  },
  {
    says: 'unanswered finds nothing',
    rungs: SCALE,
    from: 72,
    rules: FIND,
    play: 'SIV',
    gives: { tempo: 72, finding: true },
  },
]

export const standing = (ladder: Ladder, x: Example): Standing => {
  const rungs = x.rungs ?? RUNGS
  const run = play(ladder, { rungs, at: rungs.indexOf(x.from ?? 108), rules: rules(x.rules) }, script(x.play))
  const s = run.states.at(-1)
  if (!s) throw new Error('nothing was played')
  const { row, slips, drops, goal, finding } = s
  return { tempo: bpm(tempoNow(s)), row, slips, drops, ceiling: s.ceiling && bpm(s.ceiling), goal, finding }
}

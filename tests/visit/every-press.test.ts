import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Event } from '../../src/ladder/event.ts'
import { decimal } from '../../src/music/fraction.ts'
import { sameTempo, tempo } from '../../src/music/tempo.ts'
import { tally } from '../../src/visit/answer.ts'
import { rungOf, type Setup } from '../../src/visit/session.ts'
import { setup } from '../screens/practice/stage.ts'
import { type HeardVisit, type Place, visitOf } from './heard.ts'

/** What happens, in the order of time: a place of the music, or what the player does. */
type Happens = Place | 'right' | 'left' | 'both' | 'takeBack' | 'wait' | 'finish' | 'listen' | 'up' | 'rested'
const PLACES: readonly string[] = [
  ...['rest', 'countIn', 'beforeMusic', 'music', 'beforeLastMeasure', 'lastMeasure'],
  ...['beforeLastBeat', 'lastBeat', 'over'],
]

const happens = (v: HeardVisit, what: Happens): void => {
  if (PLACES.includes(what)) v.to(what as Place)
  else if (what === 'right' || what === 'left') v.press(what)
  else if (what === 'both') {
    // The first of the two is taken at once.
    v.press('right')
    v.press('both')
  } else if (what === 'up') v.act({ kind: 'nextRung', by: 1 })
  else if (what === 'rested') v.rested()
  else v.act({ kind: what as 'wait' })
}
/** On the second rung, 108 of 104 to 120. */
const visitAfter = (happened: readonly Happens[], change: Partial<Omit<Setup, 'goal'>> = {}): HeardVisit => {
  const v = visitOf(setup({ from: 1, ...change }))
  for (const h of happened) happens(v, h)
  v.told()
  return v
}
const told = (happened: readonly Happens[], then: Happens, change: Partial<Omit<Setup, 'goal'>> = {}) => {
  const v = visitAfter(happened, change)
  happens(v, then)
  return v.told()
}

/** Where a visit may stand, and how it came there. */
const MOMENTS = {
  'before the first press': [],
  'in the first count-in': ['right', 'countIn'],
  'in the music': ['right', 'music'],
  'in the last measure': ['right', 'lastMeasure'],
  'when it is over': ['right', 'over'],
  'clean, still sounding': ['right', 'lastMeasure', 'right'],
  'not clean, still sounding': ['right', 'lastMeasure', 'left'],
  'in the rest after clean': ['right', 'over', 'right', 'rest'],
  'in the count-in after not clean': ['right', 'over', 'left', 'countIn'],
  'in the rest after one that was judged while it sounded': ['right', 'lastMeasure', 'right', 'over', 'rest'],
  'after a stop': ['right', 'music', 'left', 'rest'],
  'in the second repetition': ['right', 'over', 'right', 'music'],
  waiting: ['right', 'over', 'right', 'wait'],
} as const satisfies Readonly<Record<string, readonly Happens[]>>
const MUSIC_IS_OVER = ['right', 'over'] as const

/** Signals are in brackets; C = clean, N = not clean, S = stopped, u = unjudged; then what is said, and the phase. */
const CLEAN = 'C plays 2 at 108 (row) after 1.0 s: clean, going'
const SLIP = 'N plays 2 at 108 (slip) after 2.2 s: slip, going'
const BOTH = 'stop unclear: unclear, hold'
const UNJUDGED = 'stop u-interrupted'
const NOTHING = ': nothingToTakeBack, going'

describe('what each press and key does at each moment, with two pedals', () => {
  test.each<[keyof typeof MOMENTS, Readonly<Record<string, string>>]>([
    [
      'before the first press',
      {
        right: 'plays 1 at 108: none, going',
        left: 'plays 1 at 108: none, going',
        both: `plays 1 at 108 ${BOTH}`,
        takeBack: ': nothingToTakeBack, ready',
        wait: 'plays 1 at 108: none, going',
        finish: 'stop: none, done',
        listen: 'plays 0 at 120: listen, ready',
        up: 'to-112: moved, ready',
      },
    ],
    [
      'in the first count-in',
      {
        right: 'stop: hold, hold',
        left: 'stop: hold, hold',
        both: `stop ${BOTH}`,
        takeBack: NOTHING,
        wait: 'stop: hold, hold',
        finish: 'stop: none, done',
        listen: 'stop plays 0 at 120: listen, hold',
        up: 'to-112 plays 2 at 112 after 0.5 s: moved, going',
      },
    ],
    [
      'in the music',
      {
        right: ': notYet, going',
        left: 'stop S plays 2 at 108 (slip) after 2.2 s: cut, going',
        both: `stop u-unclear unclear: unclear, hold`,
        takeBack: NOTHING,
        wait: `${UNJUDGED}: hold, hold`,
        finish: `${UNJUDGED}: none, done`,
        listen: `${UNJUDGED} plays 0 at 120: listen, hold`,
        up: 'to-112: moved, going',
      },
    ],
    [
      'in the last measure',
      {
        right: 'C then 2 at 108 (row) after 1.0 s: clean, going',
        left: 'N then 2 at 108 (slip) after 2.2 s: slip, going',
        both: 'C then 2 at 108 (row) after 1.0 s stop back u-unclear unclear: unclear, hold',
        takeBack: NOTHING,
        wait: `${UNJUDGED}: hold, hold`,
        finish: `${UNJUDGED}: none, done`,
        listen: `${UNJUDGED} plays 0 at 120: listen, hold`,
        up: 'to-112: moved, going',
      },
    ],
    [
      'when it is over',
      {
        right: CLEAN,
        left: SLIP,
        both: 'C plays 2 at 108 (row) after 1.0 s stop back u-unclear unclear: unclear, hold',
        takeBack: NOTHING,
        wait: ': waiting, going',
        finish: 'stop u-silent: none, done',
        listen: ': waiting, going',
        up: 'to-112: moved, going',
      },
    ],
    [
      'clean, still sounding',
      {
        right: ': already, going',
        left: 'back N then 3 at 108 (slip) after 2.2 s: slip, going',
        both: BOTH,
        takeBack: 'back unqueue: takenBack, going',
        wait: 'stop: hold, hold',
        finish: 'stop: none, done',
        listen: 'stop plays 0 at 120: listen, hold',
        up: 'to-112 then 3 at 112 after 1.0 s: moved, going',
      },
    ],
    [
      'not clean, still sounding',
      {
        right: 'back C then 3 at 108 (row) after 1.0 s: clean, going',
        left: ': already, going',
        both: 'back C then 3 at 108 (row) after 1.0 s stop back u-unclear unclear: unclear, hold',
        takeBack: 'back unqueue: takenBack, going',
        wait: 'stop: hold, hold',
        finish: 'stop: none, done',
        up: 'to-112 then 3 at 112 after 1.0 s: moved, going',
      },
    ],
    [
      'in the rest after clean',
      {
        right: 'stop: hold, hold',
        left: 'back N plays 3 at 108 (slip) after 2.2 s: slip, going',
        both: `stop ${BOTH}`,
        takeBack: 'back stop: takenBack, going',
        wait: 'stop: hold, hold',
        finish: 'stop: none, done',
        listen: 'stop plays 0 at 120: listen, hold',
        up: 'to-112 plays 3 at 112 after 0.5 s: moved, going',
      },
    ],
    [
      'in the rest after one that was judged while it sounded',
      {
        right: 'stop: hold, hold',
        left: 'back N plays 3 at 108 (slip) after 2.2 s: slip, going',
        both: `stop ${BOTH}`,
        takeBack: 'back stop: takenBack, going',
        wait: 'stop: hold, hold',
        up: 'to-112 plays 3 at 112 after 0.5 s: moved, going',
      },
    ],
    [
      'in the count-in after not clean',
      {
        right: 'back C plays 3 at 108 (row) after 1.0 s: clean, going',
        left: 'stop: hold, hold',
        both: 'back C plays 3 at 108 (row) after 1.0 s stop back u-unclear unclear: unclear, hold',
        takeBack: 'back stop: takenBack, going',
        wait: 'stop: hold, hold',
        up: 'to-112 plays 3 at 112 after 0.5 s: moved, going',
      },
    ],
    [
      'after a stop',
      {
        right: 'stop: hold, hold',
        left: 'stop: hold, hold',
        both: `stop ${BOTH}`,
        takeBack: 'back: takenBack, going',
        wait: 'stop: hold, hold',
        up: 'to-112 plays 3 at 112 after 0.5 s: moved, going',
      },
    ],
    [
      'in the second repetition',
      {
        right: ': notYet, going',
        left: 'stop S plays 3 at 108 (slip) after 2.2 s: cut, going',
        both: 'stop u-unclear unclear: unclear, hold',
        takeBack: 'back: takenBack, going',
        wait: `${UNJUDGED}: hold, hold`,
        finish: `${UNJUDGED}: none, done`,
        up: 'to-112: moved, going',
      },
    ],
    [
      'waiting',
      {
        right: 'plays 3 at 108: none, going',
        left: 'plays 3 at 108: none, going',
        both: `plays 3 at 108 ${BOTH}`,
        takeBack: 'back: takenBack, hold',
        wait: 'plays 3 at 108: none, going',
        finish: 'stop: none, done',
        listen: 'plays 0 at 120: listen, hold',
        up: 'to-112: moved, hold',
      },
    ],
  ])('%s', (moment, all) => {
    for (const [what, says] of Object.entries(all))
      expect(told(MOMENTS[moment], what as Happens), what).toBe(says)
  })

  test.each<[keyof typeof MOMENTS, string]>([
    ['in the music', 'stop S plays 2 at 108 (slip) after 2.2 s: cut, going'],
    ['in the last measure', 'stop S plays 2 at 108 (slip) after 2.2 s: cut, going'],
    ['when it is over', CLEAN],
    ['in the rest after clean', 'back N plays 3 at 108 (slip) after 2.2 s: slip, going'],
    ['waiting', 'plays 3 at 108: none, going'],
  ])('with one pedal, %s', (moment, says) => {
    for (const pedal of ['right', 'left'] as const)
      expect(told(MOMENTS[moment], pedal, { pedals: 1 })).toBe(says)
  })

  test('to the frame: the last measure opens the verdict, of one pedal the last beat; the first note closes the rest', () => {
    const at = (place: Place, pedals: 1 | 2 = 2) => told(['right', place], 'right', { pedals })
    expect([at('beforeLastMeasure'), at('lastMeasure')]).toEqual([
      ': notYet, going',
      'C then 2 at 108 (row) after 1.0 s: clean, going',
    ])
    const cut = 'stop S plays 2 at 108 (slip) after 2.2 s: cut, going'
    expect([at('lastMeasure', 1), at('beforeLastBeat', 1)]).toEqual([cut, cut])
    expect(at('lastBeat', 1)).toBe('C then 2 at 108 (row) after 1.0 s: clean, going')
    const second = ['right', 'over', 'right'] as const
    expect(told([...second, 'beforeMusic'], 'left')).toBe(
      'back N plays 3 at 108 (slip) after 2.2 s: slip, going',
    )
    expect(told([...second, 'music'], 'left')).toBe('stop S plays 3 at 108 (slip) after 2.2 s: cut, going')
  })

  test('a stop stands one beat before the press, and in the first beat there', () => {
    const stopped = (place: Place, beats = 0) => {
      const v = visitAfter(['right', place])
      v.later(beats)
      happens(v, 'left')
      const last = v.journal().at(-1)
      return last?.kind === 'verdict' && last.place
    }
    expect([0, 1, 2, 3].map(beats => stopped('music', beats))).toEqual(['41.1', '41.1', '41.2', '41.3'])
    expect(stopped('beforeLastMeasure')).toBe('41.3')
  })

  test('after the end nothing does anything', () => {
    for (const what of ['right', 'left', 'takeBack', 'wait', 'finish', 'listen', 'up'] as const)
      expect(told(['right', 'over', 'right', 'finish'], what)).toBe(': none, done')
  })
})

describe('where the music goes on by itself', () => {
  const on = (happened: readonly Happens[], then: Happens) => told(happened, then, { after: 'go-on' })

  test('the pause is a measure long, and what has no answer asks for one after a second', () => {
    expect(on(['right'], 'over')).toBe('plays 2 at 108 (unanswered) after 2.2 s: none, going')
    expect(on(['right', 'lastMeasure'], 'right')).toBe('C then 2 at 108 (row) after 2.2 s: clean, going')
    expect(on(['right', 'over', 'rest'], 'left')).toBe('N plays 3 at 108 (slip) after 2.2 s: slip, going')
  })

  test('after long music the pause is the usual one after a clean repetition', () => {
    const v = visitOf(setup({ measures: 8, start: 120, goal: 120, after: 'go-on' }))
    for (const h of ['right', 'over'] as const) happens(v, h)
    expect(v.told()).toBe('plays 1 at 120 plays 2 at 120 (unanswered) after 2.0 s: none, going')
    // Or as long as what was played, sixteen seconds with the count-in.
    const rest = { clean: 2, slip: 4, asLong: true }
    const long = visitOf(setup({ measures: 8, start: 120, goal: 120, after: 'go-on', rest }))
    for (const h of ['right', 'over'] as const) happens(long, h)
    expect(long.told()).toContain('plays 2 at 120 (unanswered) after 14.0 s')
  })

  test('what was begun by itself counts its silences from the beginning', () => {
    const v = visitAfter([], { after: 'go-on' })
    v.act({ kind: 'begin' })
    v.told()
    happens(v, 'over')
    expect(v.told()).toBe('plays 2 at 108 (unanswered) after 2.2 s: none, going')
    for (const h of ['music', 'over'] as const) happens(v, h)
    expect(v.told()).toBe('u-silent unanswered: waiting, going')
  })

  test('an answer in the rest, a frame before the count-in, makes the next one anew', () => {
    const v = visitAfter(['right', 'over'], { after: 'go-on' })
    v.to('rest')
    happens(v, 'left')
    expect(v.told()).toBe('N plays 3 at 108 (slip) after 2.2 s: slip, going')
  })

  test('an answer in the count-in that leaves the rung lets it go on', () => {
    expect(on(['right', 'over', 'countIn'], 'right')).toBe('C: clean, going')
    expect(on(['right', 'over', 'countIn', 'left', 'countIn'], 'right')).toBe('back C: clean, going')
    // The second slip in a row is a rung down.
    const slipped = ['right', 'over', 'left', 'over', 'countIn'] as const
    expect(on(slipped, 'left')).toBe('N plays 5 at 104 (down) after 2.3 s: down, going')
  })

  test('until the second one without an answer, of one pedal the third: then it waits', () => {
    const silent: readonly Happens[] = ['right', 'over', 'music']
    expect(on(['right', 'over'], 'music')).toBe('u-silent: unanswered, going')
    expect(on(silent, 'over')).toBe('unanswered: waiting, going')
    const one = (happened: readonly Happens[]) => told(happened, 'over', { after: 'go-on', pedals: 1 })
    expect(one(silent)).toBe('plays 3 at 108 (unanswered) after 2.2 s: unanswered, going')
    expect(one([...silent, 'over', 'music'])).toBe('unanswered: waiting, going')
    // An answer begins the count anew.
    expect(on([...silent, 'lastMeasure', 'right', 'over', 'music'], 'over')).toBe(
      'plays 4 at 108 (unanswered) after 2.2 s: none, going',
    )
  })

  test('a verdict that is taken back leaves the next repetition as it is', () => {
    expect(on(['right', 'over', 'right', 'rest'], 'takeBack')).toBe('back: takenBack, going')
  })
})

describe('a rung is done', () => {
  const two: readonly Happens[] = ['right', 'over', 'right', 'over', 'right']
  test('the next one is heard at once; taken back, the right tempo comes back', () => {
    expect(told(two, 'over')).toBe(': waiting, going')
    expect(told([...two, 'over'], 'right')).toBe('C plays 4 at 112 (up) after 1.0 s: up, going')
    expect(told([...two, 'lastMeasure'], 'right')).toBe('C then 4 at 112 (up) after 1.0 s: up, going')
    // Two of three in a row are two notes.
    expect(told(two.slice(0, 4), 'right')).toBe('C plays 3 at 108 (row row) after 1.0 s: clean, going')
    expect(told([...two, 'over', 'right', 'music'], 'takeBack')).toBe(
      'back stop u-interrupted plays 5 at 108 after 0.5 s: takenBack, going',
    )
    expect(told([...two, 'over', 'right', 'rest'], 'takeBack')).toBe('back stop: takenBack, going')
    // Turned in the rest: what was counted in at 112 is counted in at 108.
    expect(told([...two, 'over', 'right', 'rest'], 'left')).toBe(
      'back N plays 5 at 108 (down) after 2.2 s: down, going',
    )
    const goesOn = told([...two, 'over', 'right', 'rest'], 'takeBack', { after: 'go-on' })
    expect(goesOn).toBe('back plays 8 at 108 after 2.2 s: takenBack, going')
  })

  test('the last one asks how to go on, and once only', () => {
    const top = { opening: { ...setup().opening, rungs: [tempo(108), tempo(112)], at: 1 } }
    const five: readonly Happens[] = [
      'right',
      ...Array.from({ length: 4 }, () => ['over', 'right'] as const).flat(),
      'over',
    ]
    const v = visitAfter([...five], top)
    happens(v, 'right')
    expect(v.told()).toBe('C stop up waits 2 s: goal, going')
    happens(v, 'rested')
    expect(v.told()).toBe('stop: goal, hold')
    expect(v.session()).toMatchObject({ asks: 'goal', handed: true })
    happens(v, 'left')
    expect([v.told(), v.session().asks]).toEqual(['plays 6 at 112: none, going', null])
    expect(v.session().slot).toBe('none')
    happens(v, 'over')
    v.told()
    happens(v, 'right')
    expect(v.told()).toMatch(/^C plays 7 at 112/)
  })

  test('taken back, it is asked again when it is reached again', () => {
    const top = { opening: { ...setup().opening, rungs: [tempo(108), tempo(112)], at: 1 } }
    const five: readonly Happens[] = [
      'right',
      ...Array.from({ length: 5 }, () => ['over', 'right'] as const).flat(),
    ]
    const v = visitAfter([...five, 'rested', 'takeBack'], top)
    expect(v.session()).toMatchObject({ asks: null, handed: false, phase: 'hold' })
    for (const h of ['right', 'over', 'right', 'rested'] as const) happens(v, h)
    expect(v.session()).toMatchObject({ asks: 'goal', handed: true })
  })
})

describe('a take that is played once', () => {
  const once = { ends: { clean: 1, tries: 2 } } as const
  const at = (happened: readonly Happens[], then: Happens) => told(happened, then, once)

  test('ends when its rest is over, and its verdict can be turned until then', () => {
    expect(at(MUSIC_IS_OVER, 'right')).toBe('C stop row waits 2 s: clean, going')
    expect(at([...MUSIC_IS_OVER, 'right'], 'rested')).toBe('stop: none, done')
    expect(at([...MUSIC_IS_OVER, 'right'], 'left')).toBe(
      'back N plays 2 at 108 (slip) after 2.2 s: slip, going',
    )
    expect(at([...MUSIC_IS_OVER, 'right', 'left'], 'rested')).toBe(': slip, going')
    expect(at([...MUSIC_IS_OVER, 'right'], 'right')).toBe(': already, going')
    expect(at([...MUSIC_IS_OVER, 'right'], 'takeBack')).toBe('back unqueue: takenBack, going')
    // The rest of before does not end what was judged anew.
    expect(at([...MUSIC_IS_OVER, 'right', 'takeBack'], 'rested')).toBe(': takenBack, going')
  })

  test('goes to its written end where it was judged before', () => {
    expect(at(['right', 'lastMeasure'], 'right')).toBe('C: clean, going')
    expect(at(['right', 'lastMeasure', 'right'], 'over')).toBe('stop row waits 2 s: clean, going')
  })

  test('ends at once where it was waited for, listened to, or the last try was stopped', () => {
    for (const key of ['wait', 'finish'] as const)
      expect(at([...MUSIC_IS_OVER, 'right'], key)).toBe('stop: none, done')
    // What is over is listened to no more.
    expect(at([...MUSIC_IS_OVER, 'right'], 'listen')).toBe('stop: none, done')
    expect(at(['right', 'over', 'left', 'music'], 'left')).toBe('stop S stop: none, done')
    // Turned in the count-in of the second try, which is not played then.
    expect(at(['right', 'over', 'left', 'countIn'], 'right')).toBe('back C stop row waits 2 s: clean, going')
    expect(at(['right', 'over', 'left', 'over'], 'left')).toBe('N stop down waits 2 s: down, going')
  })
})

describe('a slot', () => {
  const timed = (
    happened: readonly Happens[],
    is: 'left' | 'over' | 'late',
    change: Partial<Omit<Setup, 'goal'>> = {},
  ) => {
    const v = visitAfter(happened, change)
    v.act({ kind: 'time', is })
    return v
  }
  test.each<[readonly Happens[], 'over' | 'late', string]>([
    // Nothing of a rung is begun: it ends between two repetitions, in the first count-in too.
    [['right', 'over', 'left', 'rest'], 'over', 'stop: slip, hold'],
    [['right', 'over', 'right', 'wait', 'takeBack'], 'over', 'stop: takenBack, hold'],
    [['right', 'countIn'], 'over', 'stop: none, hold'],
    // A row is begun: a minute more.
    [['right', 'over', 'right', 'rest'], 'over', ': clean, going'],
    [['right', 'over', 'right', 'rest'], 'late', 'stop: clean, hold'],
    // What sounds, or waits for its verdict, is never cut.
    [['right', 'music'], 'late', ': none, going'],
    [['right', 'over'], 'late', ': waiting, going'],
    [['right', 'lastMeasure', 'right'], 'late', ': clean, going'],
  ])('%j, then %s: %s', (happened, is, says) => {
    expect(timed(happened, is).told()).toBe(says)
  })

  test('the verdict that ends it can be turned; then right goes on, left has two minutes more, both ask nothing', () => {
    const asked = (): HeardVisit => {
      const v = timed(MUSIC_IS_OVER, 'late')
      happens(v, 'right')
      expect(v.told()).toBe('C stop row waits 2 s: clean, going')
      happens(v, 'rested')
      expect([v.told(), v.session().asks]).toEqual(['stop: clean, hold', 'time'])
      return v
    }
    const then = (what: Happens): string => {
      const v = asked()
      if (what === 'both') v.press('both')
      else happens(v, what)
      return `${v.told()} ${v.session().slot}`
    }
    expect(then('right')).toBe('stop: none, done late')
    expect(then('left')).toBe('more plays 2 at 108: none, going left')
    expect(then('wait')).toBe('more plays 2 at 108: none, going left')
    expect(then('both')).toBe(': clean, hold late')
    expect(then('takeBack')).toBe('back: takenBack, hold late')
  })

  test('a stop ends it at once when it is late', () => {
    const v = timed(['right', 'music'], 'late')
    happens(v, 'left')
    expect(v.told()).toBe('stop S stop slip: cut, hold')
  })
})

describe('at every moment', () => {
  const at = (f: (v: HeardVisit, phase: string) => void): void => {
    for (const happened of Object.values(MOMENTS)) {
      const v = visitAfter(happened)
      f(v, v.session().phase)
    }
  }

  test('what is refused, and a tempo above the last rung, change nothing', () => {
    at((v, phase) => {
      v.act({ kind: 'refuse', text: 'no' })
      expect(v.told()).toBe(`: refused, ${phase}`)
      v.act({ kind: 'tempo', to: tempo(121) })
      expect(v.told()).toBe(`: refused, ${phase}`)
      expect(v.session().note).toMatchObject({ text: "That's above the goal." })
      for (const kind of ['over', 'entered', 'started'] as const) {
        v.act({ kind, rep: 77 })
        v.act({ kind, rep: 0 })
      }
      expect(v.told()).toBe(`: refused, ${phase}`)
    })
  })

  test('a tempo by hand is written, and counted in where a count-in runs', () => {
    at((v, phase) => {
      v.act({ kind: 'tempo', to: tempo(106) })
      expect(v.told()).toMatch(
        new RegExp(`^to-106( (plays|then) [0-9] at 106 after (0.5|1.0) s)?: moved, ${phase}$`),
      )
      expect(v.session().note).toEqual({ kind: 'moved', tempo: tempo(106) })
    })
  })

  test('up to the last rung', () => {
    at((v, phase) => {
      v.act({ kind: 'tempo', to: tempo(120) })
      expect(v.told()).toMatch(new RegExp(`^to-120.*: moved, ${phase}$`))
    })
  })

  test('trouble with the sound stops what plays, as waiting does; with the disk all of it', () => {
    at((v, phase) => {
      const { current } = v.session()
      const open = phase === 'going' && current?.entered && !current.verdict
      v.act({ kind: 'interrupted', text: 'gone' })
      const unjudged = open ? (current?.over ? ' u-silent' : ' u-interrupted') : ''
      expect(v.told()).toBe(phase === 'going' ? `stop${unjudged}: trouble, hold` : `: trouble, ${phase}`)
      v.act({ kind: 'notStored', text: 'full' })
      expect(v.told()).toBe('stop: trouble, hold')
    })
  })

  test('begin begins where nothing plays', () => {
    at((v, phase) => {
      v.act({ kind: 'begin' })
      expect(v.told()).toMatch(
        phase === 'going' ? /^: / : /^plays [13] at 108 after 2.0 s: (start|hold), going$/,
      )
    })
  })

  test('one more place to breathe is heard from the next count-in on', () => {
    at((v, phase) => {
      v.act({ kind: 'music', form: setup({ measures: 1 }).form, text: 'breathe' })
      const said = v.told()
      // What is queued is made anew.
      expect(said).toMatch(new RegExp(`^(then 3 at 108 after [0-9.]+ s)?: refused, ${phase}$`))
      expect(v.session().setup).toMatchObject({ air: true })
    })
  })

  test('below the lowest rung and above the last one there is none', () => {
    const v = visitAfter([], { from: 0 } as object)
    v.act({ kind: 'nextRung', by: -1 })
    expect(v.session().note).toMatchObject({
      kind: 'refused',
      text: 'There is no further rung in that direction.',
    })
    const top = visitAfter([], { opening: { ...setup().opening, at: 4 } })
    top.act({ kind: 'nextRung', by: 1 })
    expect(top.session().note).toMatchObject({ text: 'There is no further rung in that direction.' })
  })
})

describe('what is taken back', () => {
  test('is the latest verdict that stands, whatever was moved since; then the one before', () => {
    const v = visitAfter(['right', 'over', 'right', 'over', 'left', 'rest', 'up'])
    const ids = v.journal().flatMap(e => (e.kind === 'verdict' ? [e.id] : []))
    const back = () => {
      happens(v, 'takeBack')
      const last = v.journal().findLast(e => e.kind === 'takeBack')
      return last?.kind === 'takeBack' ? last.of : ''
    }
    expect([back(), back()]).toEqual(ids.toReversed())
    v.told()
    happens(v, 'takeBack')
    expect(v.told()).toBe(': nothingToTakeBack, going')
    const moved = visitAfter(['up'])
    happens(moved, 'takeBack')
    expect(moved.told()).toBe(': nothingToTakeBack, ready')
  })
})

describe('listening to the goal', () => {
  test('is no repetition: a press stops it and begins, and its end is said', () => {
    const v = visitAfter(['listen'])
    expect(v.session().hearing?.rep).toBe(0)
    v.act({ kind: 'over', rep: 0 })
    expect([v.told(), v.session().hearing]).toEqual([': listened, ready', null])
    v.act({ kind: 'over', rep: 0 })
    expect(v.told()).toBe(': listened, ready')
    const pressed = visitAfter(['listen'])
    happens(pressed, 'right')
    expect([pressed.told(), pressed.session().hearing]).toEqual(['plays 1 at 108: none, going', null])
    const broken = visitAfter(['listen'])
    broken.act({ kind: 'interrupted', text: 'gone' })
    expect(broken.session().hearing).toBeNull()
  })
})

describe('whatever is pressed', () => {
  const stretch = fc.oneof(
    { weight: 7, arbitrary: fc.constant<readonly Happens[]>(['over', 'right']) },
    { weight: 2, arbitrary: fc.constant<readonly Happens[]>(['lastMeasure', 'right']) },
    { weight: 2, arbitrary: fc.constant<readonly Happens[]>(['over', 'left']) },
    { weight: 1, arbitrary: fc.constantFrom<readonly Happens[]>(['music', 'right'], ['music', 'left']) },
    {
      weight: 6,
      arbitrary: fc.constantFrom<readonly Happens[]>(
        ...(['right', 'left', 'both', 'takeBack', 'wait', 'listen', 'up', 'rested'] as const).map(h => [h]),
        ...(['over', 'music', 'countIn', 'rest'] as const).map(h => [h]),
      ),
    },
  )
  const kinds = fc.constantFrom<Partial<Omit<Setup, 'goal'>>>(
    {},
    { pedals: 1 },
    { after: 'go-on' },
    { ends: { clean: 3, tries: 6 } },
  )
  const standing = (journal: readonly Event[]) => {
    const back = new Set(journal.flatMap(e => (e.kind === 'takeBack' ? [e.of] : [])))
    return journal.filter((e): e is Event & { kind: 'verdict' } => e.kind === 'verdict' && !back.has(e.id))
  }

  test('law: one verdict a repetition, what sounds next is at its rung, and screen and journal agree', () => {
    const seen = new Map<string, number>()
    fc.assert(
      fc.property(fc.array(stretch, { minLength: 15, maxLength: 30, size: 'max' }), kinds, (all, change) => {
        const v = visitOf(setup({ from: 1, ...change }))
        let reps = 0
        for (const what of all.flat()) {
          const before = v.session()
          const written = v.journal().length
          happens(v, what)
          const s = v.session()
          const verdicts = standing(v.journal())
          const byRep = new Map(verdicts.map(e => [e.rep, e]))
          expect(byRep.size).toBe(verdicts.length)
          for (const e of v.journal().slice(written)) {
            seen.set(e.kind, (seen.get(e.kind) ?? 0) + 1)
            // A clean one was heard to its last measure; what is not judged has no verdict that stands.
            if (e.kind === 'verdict' && e.clean) expect(e.whole).toBe(true)
            if (e.kind === 'unjudged') expect(byRep.has(e.rep)).toBe(false)
          }
          // Each new one has the next number, and is counted in at its rung.
          expect(s.reps).toBeGreaterThanOrEqual(reps)
          expect(s.reps - reps).toBeLessThanOrEqual(2)
          reps = s.reps
          const { clean, verdicts: n, here } = tally(s)
          // What waits behind the last one of a visit that ends is never heard.
          const ended = change.ends !== undefined && (clean >= 3 || n >= 6)
          for (const t of [s.current, ended ? null : s.next])
            if (t && !t.entered && s.phase === 'going')
              expect(decimal(t.tempo.bpm)).toBe(decimal(rungOf(s.ladder).bpm))
          for (const t of [s.current, s.last]) {
            if (!t) continue
            const stored = byRep.get(t.rep)
            expect(t.verdict?.id).toBe(stored?.id)
            expect(t.verdict?.clean).toBe(stored?.clean)
            expect(t.verdict?.whole).toBe(stored?.whole)
          }
          if (s.phase !== 'going') expect([s.current, s.next, s.last]).toEqual([null, null, null])
          else expect(s.current).not.toBeNull()
          // What waits behind waits for one that sounds and is judged.
          if (s.next)
            expect([s.current?.entered, s.current?.over, s.current?.verdict?.whole]).toEqual([
              true,
              false,
              true,
            ])
          expect([clean, n]).toEqual([verdicts.filter(e => e.clean).length, verdicts.length])
          expect(here).toBe(verdicts.filter(e => sameTempo(e.tempo, rungOf(s.ladder))).length)
          // Two without an answer, of one pedal three, and nothing goes on.
          expect(s.unanswered).toBeLessThanOrEqual(change.pedals === 1 ? 3 : 2)
          if (s.phase === 'done' && before.phase !== 'done')
            expect(change.ends ? clean >= 3 || n >= 6 : what === 'right').toBe(true)
          seen.set(s.note.kind, (seen.get(s.note.kind) ?? 0) + 1)
        }
      }),
      { numRuns: 50 },
    )
    const common = 'verdict unjudged takeBack move up down cut slip clean hold waiting'
    for (const kind of common.split(' ')) expect(seen.get(kind) ?? 0, kind).toBeGreaterThan(0)
  })
})

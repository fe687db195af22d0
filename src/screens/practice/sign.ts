import { beatsOf } from '../../click/program.ts'
import { beatNow } from '../../visit/legs.ts'
import { counting } from '../../visit/moment.ts'
import { type Remark, type Session, sounding } from '../../visit/session.ts'
import { restNow } from './strip.ts'

const WORDS = {
  ready: 'READY',
  asks: '?',
  next: 'NEXT?',
  held: 'HELD',
  clean: 'CLEAN',
  // Told apart from CLEAN at a glance, which NOT CLEAN would not be.
  slip: 'SLIP',
  up: 'UP',
  down: 'DOWN',
  goal: 'GOAL',
  none: '',
} as const

/** What the screen is about at this moment, in one word or number that is read from two meters. */
export type Sign = { readonly kind: keyof typeof WORDS | 'countIn' | 'rest' | 'beat'; readonly text: string }

const sign = (kind: keyof typeof WORDS): Sign => ({ kind, text: WORDS[kind] })

/** What was understood of the latest verdict. */
const UNDERSTOOD: Partial<Readonly<Record<Remark['kind'], keyof typeof WORDS>>> = {
  clean: 'clean',
  stays: 'clean',
  slip: 'slip',
  cut: 'slip',
  place: 'slip',
  up: 'up',
  down: 'down',
  suggest: 'down',
  goal: 'goal',
  waiting: 'asks',
  unanswered: 'asks',
}

/** `frame` of the take that sounds; `numbers` = the beats are slow enough to be shown by a number that changes. */
export const signOf = (s: Session, frame: number | null, numbers: boolean): Sign => {
  const take = sounding(s)
  const understood = UNDERSTOOD[s.note.kind]
  if (s.asks) return sign(s.asks === 'goal' ? (understood ?? 'next') : 'next')
  if (s.phase === 'done') return sign('none')
  if (s.phase !== 'going' && !s.hearing) return sign(understood ?? 'ready')
  if (!take || take.over) return sign(understood ?? 'asks')
  if (take.legs?.held) return sign('held')
  const at = frame ?? -1
  if (at >= take.program.firstNote) {
    if (take.verdict) return sign(understood ?? (take.verdict.clean ? 'clean' : 'slip'))
    const beat = numbers ? beatNow(take, frame) : null
    return beat ? { kind: 'beat', text: String(beat.beat) } : sign('none')
  }
  const countIn = counting(take, frame)
  if (!countIn && understood) return sign(understood)
  const rest = /^rest (\d+)/.exec(restNow(s, frame))?.[1]
  if (rest !== undefined) return { kind: 'rest', text: `REST ${rest}` }
  const left = beatsOf(take.program).filter(
    b => b.frame < take.program.firstNote && (!countIn || b.frame > at),
  )
  const to = left.length + (countIn ? 1 : 0)
  return numbers && to > 0 ? { kind: 'countIn', text: `IN ${to}` } : sign('none')
}

import * as z from 'zod'
import { type Program, ROLES, type SegmentKind } from '../click/program.ts'
import { CHARACTERS, DYNAMICS, type Levels } from '../click/voices.ts'
import { DEVICES } from './outputs/output.ts'

/** What the screen process and the sound process say to each other: data only, checked at both ends. */

const frame = z.int().nonnegative()
/** Programs are numbered by the sender; numbers rise, and one that does not is stale. */
const id = z.int().positive()

/** A record, so that a kind added elsewhere and forgotten here does not compile. */
const KINDS: Readonly<Record<SegmentKind, SegmentKind>> = {
  rest: 'rest',
  countIn: 'countIn',
  passage: 'passage',
}

const program: z.ZodType<Program> = z.object({
  rate: z.int().positive(),
  frames: z.int().positive(),
  onsets: z.array(z.object({ frame, role: z.enum(ROLES), measure: z.int(), beat: z.int() })),
  segments: z.array(z.object({ kind: z.enum(KINDS), frame })),
  firstNote: frame,
  verdictFrom: frame,
  lastBeat: frame,
  end: frame,
  tone: z
    .object({ hz: z.number().positive(), dbfs: z.number().max(0), from: frame, to: frame })
    .exactOptional(),
})

const dynamic = z.enum(DYNAMICS)
const levels = z.object({
  master: dynamic,
  roles: z.partialRecord(z.enum(ROLES), dynamic),
  character: z.enum(CHARACTERS),
}) as z.ZodType<Levels>

/** What a sound process is started with, as JSON. */
const start = z.object({
  output: z.enum(DEVICES),
  /** A deep queue from the first frame on. */
  deep: z.boolean(),
  /** A part of the name of the device to play through; null = the system's own choice. */
  device: z.string().nullable(),
  /** Silence is sent as the faintest noise there is, which keeps wireless headphones from falling asleep. */
  faint: z.boolean(),
  /** Name all devices of this output when it is ready. */
  list: z.boolean(),
})
export type PlayerStart = z.infer<typeof start>
/** Throws a ZodError, or a SyntaxError, on anything else. */
export const readStart = (text: string): PlayerStart => start.parse(JSON.parse(text))

const toPlayer = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('play'), id, program, after: z.union([z.literal('now'), id]) }),
  /**
   * What another output has begun, or not yet, goes on here, each directly behind the one before. `heardAt` (monotonic
   * ms): when frame 0 of the first one was or will be heard; null = as soon as can be.
   */
  z.object({
    kind: z.literal('join'),
    programs: z.array(z.object({ id, program })),
    heardAt: z.number().nullable(),
  }),
  z.object({ kind: z.literal('stop') }),
  z.object({ kind: z.literal('levels'), levels }),
  z.object({ kind: z.literal('bye') }),
])
export type ToPlayer = z.infer<typeof toPlayer>

const fromPlayer = z.discriminatedUnion('kind', [
  /** The output has taken frames; `depthMs` = from handing over to hearing. */
  z.object({
    kind: z.literal('ready'),
    output: z.string(),
    rate: z.int(),
    depthMs: z.number(),
    /** Where it is heard, as the system calls it; null = the system does not say. */
    device: z.string().nullable(),
    /** All devices of this output, where they were asked for and it can choose. */
    devices: z.array(z.string()),
  }),
  /** A process of the system that plays for this one, and ends with it. */
  z.object({ kind: z.literal('owns'), pid: z.int().positive() }),
  /**
   * The program's first frame lies at `frame` of the stream; below 0 where another stream began it. Said when that frame
   * is handed over.
   */
  z.object({ kind: z.literal('started'), id, frame: z.int() }),
  /** The next frame to be handed over is heard at `heardAt` (monotonic ms). The line holds from frame `from` on. */
  z.object({ kind: z.literal('clock'), frame, heardAt: z.number(), from: frame }),
  /** `frame` counts from the program's start; 0 = it never began. */
  z.object({ kind: z.literal('cut'), id, frame }),
  z.object({ kind: z.literal('ended'), id }),
  /** The device ran dry before frame `frame` of the stream. */
  z.object({ kind: z.literal('trouble'), what: z.literal('underrun'), frame }),
  /** The system plays through another device from now on, in the same stream. */
  z.object({ kind: z.literal('moved'), device: z.string() }),
  z.object({ kind: z.literal('failed'), reason: z.string() }),
])
export type FromPlayer = z.infer<typeof fromPlayer>

/** Throws a ZodError on anything else. */
export const readToPlayer = (message: unknown): ToPlayer => toPlayer.parse(message)
/** null for anything else. */
export const readFromPlayer = (message: unknown): FromPlayer | null =>
  fromPlayer.safeParse(message).data ?? null

import { renderer } from '../click/render.ts'
import { DEFAULT_LEVELS } from '../click/voices.ts'
import { adaptiveDepth } from './depth.ts'
import { DEVICE_NAMES, OPEN } from './outputs/open-output.ts'
import type { Output } from './outputs/output.ts'
import { defaultSink, watchDefaultSink } from './outputs/system-devices.ts'
import { type FromPlayer, type PlayerStart, readStart, readToPlayer } from './protocol.ts'
import { addHiss, framesOf, monotonic, RATE } from './stream.ts'
import { emptyTimeline, handOver, join, place, silentIn, stop, type TimelineStep } from './timeline.ts'

/** The sound process: owns one output, renders on the fly, reports. Ends with its parent. */

/** Between two reports of the clock, ms. */
const REPORT = 200

let timeline = emptyTimeline
let render = renderer(RATE, DEFAULT_LEVELS)
let faint = false
let output: Output | null = null

/** Some outputs hang or crash on a polite exit, so the process ends itself the hard way. */
const leave = (): void => {
  output?.close()
  process.kill(process.pid, 'SIGKILL')
}

const send = (m: FromPlayer): void => {
  if (process.connected) process.send?.(m, () => {})
}

/** The last word; leaves when it has been sent. */
const fail = (e: unknown): void => {
  const m: FromPlayer = { kind: 'failed', reason: e instanceof Error ? e.message : String(e) }
  if (process.connected && process.send) process.send(m, leave)
  else leave()
}

const step = (s: TimelineStep): void => {
  timeline = s.timeline
  for (const h of s.happened) send(h)
}

const reportClock = (): void => {
  const heardAt = output?.heardAt(timeline.next) ?? null
  if (output && heardAt !== null)
    send({ kind: 'clock', frame: timeline.next, heardAt, from: output.lineFrom() })
}

const pull = (out: Int16Array): void => {
  try {
    const sounds = render(timeline.items, timeline.next, out)
    if (faint && !sounds) addHiss(out)
    step(handOver(timeline, out.length / 2))
  } catch (e) {
    out.fill(0)
    fail(e)
  }
}

const hear = (message: unknown): void => {
  const m = readToPlayer(message)
  if (m.kind === 'play') step(place(timeline, m.id, m.program, m.after))
  else if (m.kind === 'join') {
    const due = output?.heardAt(timeline.next) ?? null
    const late = m.heardAt === null || due === null ? 0 : framesOf(m.heardAt - due)
    step(join(timeline, m.programs, timeline.next + late))
  } else if (m.kind === 'stop') step(stop(timeline))
  else if (m.kind === 'levels') render = renderer(RATE, m.levels)
  else {
    // What has been handed over is heard to its end, the fade of the cut included.
    step(stop(timeline))
    setTimeout(leave, (output?.depthMs() ?? 0) + 50)
  }
}

const open = async (o: PlayerStart): Promise<void> => {
  faint = o.faint
  const [opened, plays, devices] = await Promise.all([
    OPEN[o.output]({
      depth: adaptiveDepth(o.deep),
      device: o.device,
      now: monotonic,
      pull,
      silentIn: (from, to) => silentIn(timeline, from, to),
      dry: frame => {
        send({ kind: 'trouble', what: 'underrun', frame })
        reportClock()
      },
      failed: fail,
      owns: pid => send({ kind: 'owns', pid }),
    }),
    o.device ?? defaultSink(),
    o.list ? (DEVICE_NAMES[o.output]?.() ?? []) : [],
  ])
  output = opened
  const { name, depthMs } = opened
  send({ kind: 'ready', output: name, rate: RATE, depthMs: depthMs(), device: plays, devices: [...devices] })
  reportClock()
  setInterval(reportClock, REPORT)
  // Without a server that says where it plays there is nothing to follow.
  if (o.device === null && plays !== null) watchDefaultSink(moved => send({ kind: 'moved', device: moved }))
}

process.on('uncaughtException', fail)
process.on('unhandledRejection', fail)
process.on('disconnect', leave)
process.stdin.on('end', leave).on('error', leave).resume()
process.on('message', hear)

// In a task of its own: the outputs are loaded by now, and a throw is told like any other.
void Promise.resolve(process.argv[2] ?? '')
  .then(readStart)
  .then(open)
  .catch(fail)

import { renderer } from '../click/render.ts'
import { DEFAULT_LEVELS } from '../click/voices.ts'
import { OPEN } from './outputs/open-output.ts'
import { DEVICES, type Output } from './outputs/output.ts'
import { type FromPlayer, readToPlayer } from './protocol.ts'
import { monotonic, RATE } from './stream.ts'
import { emptyTimeline, handOver, place, type Step, stop } from './timeline.ts'

/**
 * The sound process: owns one output (its first argument; the second one, `deep`, asks for a deep queue), renders on the
 * fly, reports. Ends with its parent.
 */

/** Between two reports of the clock, ms. */
const REPORT = 250

let timeline = emptyTimeline
let render = renderer(RATE, DEFAULT_LEVELS)
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
  const m: FromPlayer = { k: 'failed', reason: e instanceof Error ? e.message : String(e) }
  if (process.connected && process.send) process.send(m, leave)
  else leave()
}

const step = (s: Step): void => {
  timeline = s.timeline
  for (const h of s.happened) send(h)
}

const reportClock = (): void => {
  const heardAt = output?.heardAt(timeline.next) ?? null
  if (output && heardAt !== null) send({ k: 'clock', frame: timeline.next, heardAt, from: output.lineFrom() })
}

const pull = (out: Int16Array): void => {
  try {
    render(timeline.items, timeline.next, out)
    step(handOver(timeline, out.length / 2))
  } catch (e) {
    out.fill(0)
    fail(e)
  }
}

const hear = (message: unknown): void => {
  const m = readToPlayer(message)
  if (m.k === 'play') step(place(timeline, m.id, m.program, m.after))
  else if (m.k === 'stop') step(stop(timeline))
  else if (m.k === 'levels') render = renderer(RATE, m.levels)
  else {
    // What has been handed over is heard to its end, the fade of the cut included.
    step(stop(timeline))
    setTimeout(leave, (output?.depthMs() ?? 0) + 50)
  }
}

process.on('uncaughtException', fail)
process.on('unhandledRejection', fail)
process.on('disconnect', leave)
process.stdin.on('end', leave).on('error', leave).resume()
process.on('message', hear)

const name = DEVICES.find(d => d === process.argv[2])
if (!name) fail(new Error(`no output is called ${process.argv[2]}`))
else {
  const opened = OPEN[name]({
    deep: process.argv[3] === 'deep',
    now: monotonic,
    pull,
    dry: frame => {
      send({ k: 'trouble', kind: 'underrun', frame })
      reportClock()
    },
    failed: fail,
  })
  opened.then(o => {
    output = o
    send({ k: 'ready', output: o.name, rate: RATE, depthMs: o.depthMs() })
    reportClock()
    setInterval(reportClock, REPORT)
  }, fail)
}

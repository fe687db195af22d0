import { writeSync } from 'node:fs'
import { printable } from '../music/result.ts'
import { faultOfItsOwn } from './words.ts'

/** Signals that end the program. SIGBREAK is Windows' own. */
const ENDINGS = ['SIGINT', 'SIGTERM', 'SIGHUP', 'SIGQUIT', 'SIGBREAK'] as const

/** How long to wait for SIGCONT after a stop that the system may have refused, in ms. */
const STOP_REFUSED = 100

/** A program that was told to leave by Ctrl+C and still has the terminal after this long is ended, ms. */
export const LEAVES_WITHIN = 2000

/** The one sentence about a fault in the program itself. */
export const faultSentence = (error: unknown): string => {
  const message = printable(error instanceof Error ? error.message : String(error)).trim()
  return faultOfItsOwn(message || 'unknown')
}

const reportFault = (error: unknown): void => {
  const stack = process.env.GRADINO_DEBUG && error instanceof Error ? `\n${error.stack}` : ''
  try {
    writeSync(2, `${faultSentence(error)}${stack}\n`)
  } catch {
    // There is nobody left to tell.
  }
}

const nothing = (): void => {}

/**
 * Ctrl+C once more while the program leaves adds nothing: what is being stored and closed is not torn off. Only for a while,
 * so that nothing can hang on to the terminal.
 */
export const leaveInPeace = (): void => {
  process.on('SIGINT', nothing)
  setTimeout(() => process.off('SIGINT', nothing), LEAVES_WITHIN).unref()
}

export type ProcessGuard = {
  /** Ends the process by this signal, as if it had never been caught: the caller's shell sees the truth. */
  die(signal: NodeJS.Signals): void
  /** Ctrl+Z: leaves the screen and stops the whole job, as the terminal does outside raw mode. */
  stop(): void
  /** Takes all listeners away. */
  release(): void
}

/**
 * Whatever ends or stops the process, `leave` runs first; `back` runs when a stopped process goes on.
 * Both must be synchronous and harmless when called twice.
 */
export const guardProcess = (o: { leave(): void; back(): void }): ProcessGuard => {
  let refused: NodeJS.Timeout | undefined

  const die = (signal: NodeJS.Signals): void => {
    o.leave()
    release()
    process.removeAllListeners(signal)
    process.kill(process.pid, signal)
  }
  const fault = (error: unknown): void => {
    o.leave()
    reportFault(error)
    process.exit(1)
  }
  /** Target 0 is the whole job. */
  const stopAs = (target: number): void => {
    if (process.platform === 'win32') return
    o.leave()
    process.off('SIGTSTP', stopped)
    clearTimeout(refused)
    process.kill(target, 'SIGTSTP')
    // Without job control the system ignores the stop, and no SIGCONT will come.
    refused = setTimeout(resume, STOP_REFUSED)
  }
  const stopped = (): void => stopAs(process.pid)
  const resume = (): void => {
    clearTimeout(refused)
    process.off('SIGTSTP', stopped)
    process.on('SIGTSTP', stopped)
    o.back()
  }
  const release = (): void => {
    clearTimeout(refused)
    for (const signal of ENDINGS) process.off(signal, die)
    process.off('exit', o.leave)
    process.off('uncaughtException', fault)
    process.off('unhandledRejection', fault)
    process.off('SIGTSTP', stopped)
    process.off('SIGCONT', resume)
  }

  for (const signal of ENDINGS) process.on(signal, die)
  process.on('exit', o.leave)
  process.on('uncaughtException', fault)
  process.on('unhandledRejection', fault)
  process.on('SIGTSTP', stopped)
  process.on('SIGCONT', resume)
  return { die, stop: () => stopAs(0), release }
}

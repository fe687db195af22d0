import { fork } from 'node:child_process'
import { tmpdir } from 'node:os'
import { isMidi } from './midi.ts'

/**
 * Listens to MIDI pedals in a process of its own; `tell` gets the ids of keys. Where there is no MIDI nothing comes and
 * nothing is said. Returns what ends it.
 */
export const listenToMidi = (
  tell: (id: string) => void,
  program = new URL('./midi-process.js', import.meta.url),
) => {
  const child = fork(program, [], {
    cwd: tmpdir(),
    execArgv: [],
    stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
  })
  child.on('message', id => {
    if (typeof id === 'string' && isMidi(id)) tell(id)
  })
  child.on('error', () => {})
  // It never keeps the program alive.
  child.unref()
  child.channel?.unref()
  return (): void => {
    child.removeAllListeners('message')
    if (child.connected) child.disconnect()
  }
}

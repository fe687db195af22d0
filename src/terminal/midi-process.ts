/**
 * The process that listens to MIDI pedals: every input there is, also one that is plugged in later. Its own process,
 * since the system's MIDI may be missing, print, or end whatever loaded it. Sends the ids of keys, one message each.
 */
import { Input } from '@julusian/midi'
import { midiKeys } from './midi.ts'

/** How often it looks for other ports, ms. */
const LOOK = 2000

const open = new Map<string, Input>()

const listen = (port: number, name: string): void => {
  const input = new Input()
  const keys = midiKeys()
  input.on('message', (_, message) => {
    for (const id of keys.feed(message)) process.send?.(id)
  })
  input.openPort(port)
  open.set(name, input)
}

const scout = new Input()
const look = (): void => {
  const names = Array.from({ length: scout.getPortCount() }, (_, i) => scout.getPortName(i))
  for (const [name, input] of open)
    if (!names.includes(name)) {
      input.closePort()
      open.delete(name)
    }
  for (const [port, name] of names.entries()) if (!open.has(name)) listen(port, name)
}

look()
setInterval(look, LOOK)
// With its parent goes the only one it tells.
process.on('disconnect', () => process.exit(0))
for (const signal of ['SIGINT', 'SIGHUP'] as const) process.on(signal, () => {})

import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { listenToMidi } from '../../src/terminal/feet.ts'
import { gone } from './left-behind.ts'

const OURS = new URL('../../dist/midi-process.js', import.meta.url)

let folder = ''
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'gradino-midi-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** Stands in for the process that listens to MIDI: says its pid as a note, then what is written here. */
const program = (name: string, code: string): URL => {
  const path = join(folder, `${name}.mjs`)
  writeFileSync(path, code)
  return pathToFileURL(path)
}
const soon = async (what: () => boolean): Promise<boolean> => {
  for (const end = performance.now() + 5000; performance.now() < end; ) {
    if (what()) return true
    await new Promise(done => setTimeout(done, 20))
  }
  return false
}

test('the pedals of a MIDI process are keys; anything else that it says is not', async () => {
  const told: string[] = []
  const stop = listenToMidi(
    id => told.push(id),
    program('pedal', "for (const m of ['midi-cc64', 7, 'x', { a: 1 }, 'midi-note36']) process.send(m)"),
  )
  expect(await soon(() => told.length === 2)).toBe(true)
  expect(told).toEqual(['midi-cc64', 'midi-note36'])
  stop()
})

test('it ends with what listens to it', async () => {
  const told: string[] = []
  const code = "process.send('midi-' + process.pid); process.on('disconnect', () => process.exit())"
  const stop = listenToMidi(id => told.push(id), program('stays', code))
  expect(await soon(() => told.length === 1)).toBe(true)
  stop()
  stop()
  const pid = Number(told[0]?.slice(5))
  expect(await soon(() => gone(pid))).toBe(true)
})

test('one that fails, as where there is no MIDI at all, is silence', async () => {
  const told: string[] = []
  const stops = [
    listenToMidi(id => told.push(id), program('fails', "throw new Error('no sequencer')")),
    listenToMidi(id => told.push(id), pathToFileURL(join(folder, 'nowhere.mjs'))),
    listenToMidi(id => told.push(id), OURS),
  ]
  await new Promise(done => setTimeout(done, 500))
  for (const stop of stops) stop()
  expect(told).toEqual([])
})

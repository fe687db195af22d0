import { readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Placed, Program } from '../../click/program.ts'
import type { Levels } from '../../click/voices.ts'
import { timedOnsets } from '../../files/onsets.ts'
import { wavOf } from '../../files/wav.ts'
import { checked } from '../../music/result.ts'
import { typed } from '../../music/tempo.ts'
import type { Sound } from '../../sound/sound.ts'
import { RATE } from '../../sound/stream.ts'
import type { Home } from '../../store/home.ts'
import { journalFolder } from '../../store/journal.ts'
import type { Session, Sounding } from '../../visit/session.ts'
import { writeFiles } from '../write-files.ts'

export type Heard = Sound & {
  /** All that has been played until now, with its cuts, in order; frames from the start of the stream. */
  readonly timeline: () => readonly Placed[]
}

/** Keeps what a sound plays, so that it can be rendered again. `now` in monotonic ms. */
export const heardOf = (sound: Sound, now: () => number): Heard => {
  const programs = new Map<number, Program>()
  const begun = new Map<number, Placed>()
  /** Frames before the present stream: one that takes over from a lost output counts from 0 again. */
  let before = 0

  const endOf = (p: Placed): number => p.cut ?? p.at + p.program.frames
  /** What still sounds ends here, since nothing of it is heard any more. */
  const breakOff = (): void => {
    for (const p of begun.values()) {
      const frame = p.cut === undefined ? sound.frameAt(p.id, now()) : null
      if (frame !== null && frame < p.program.frames)
        begun.set(p.id, { ...p, cut: p.at + Math.max(0, frame) })
    }
  }

  const unlisten = sound.on(e => {
    const program = e.kind === 'started' ? programs.get(e.id) : undefined
    if (e.kind === 'started' && program) begun.set(e.id, { id: e.id, at: before + e.frame, program })
    const sounding = e.kind === 'cut' ? begun.get(e.id) : undefined
    if (e.kind === 'cut' && sounding) begun.set(e.id, { ...sounding, cut: sounding.at + e.frame })
    if (e.kind === 'trouble' && e.what !== 'underrun') breakOff()
    if (e.kind === 'output') before = Math.max(0, ...[...begun.values()].map(endOf))
  })

  return {
    ...sound,
    play: (program, after) => {
      const id = sound.play(program, after)
      programs.set(id, program)
      return id
    },
    close: () => {
      unlisten()
      return sound.close()
    },
    timeline: () => {
      breakOff()
      return [...begun.values()].sort((a, b) => a.at - b.at)
    },
  }
}

export type Kept = {
  readonly home: Home
  readonly session: Session
  readonly timeline: readonly Placed[]
  readonly levels: Levels
  readonly takes: ReadonlyMap<Program, Sounding>
  readonly screen: string
}

/** Every onset that was heard, with the tempo, its rung (1 = the lowest) and the repetition it belongs to. */
const onsets = (k: Kept): readonly object[] =>
  k.timeline.flatMap(p => {
    const take = k.takes.get(p.program)
    const rung = k.session.ladder.rungs.findIndex(r => take && typed(r) === typed(take.tempo)) + 1
    const of = take ? { tempo: typed(take.tempo), rung, repetition: take.rep } : {}
    return timedOnsets([p], RATE).map(o => ({ ...o, ...of }))
  })

/** The lines of this visit, as they stand in the journal. */
const journalLines = async (k: Kept): Promise<readonly string[]> => {
  const visit = k.session.events[0]?.visit
  const names = await readdir(journalFolder(k.home), { recursive: true })
  const files = names.filter(name => name.endsWith('.jsonl')).sort()
  const texts = await Promise.all(files.map(name => readFile(join(journalFolder(k.home), name), 'utf8')))
  const lines = texts.flatMap(text => text.split('\n'))
  return lines.filter(line => visit !== undefined && line.includes(`"visit":"${visit}"`))
}

const asLines = (values: readonly string[]): string => values.map(v => `${v}\n`).join('')

/** Keeps sound, onsets, journal and last screen in a folder; returns the paths. Throws StoreError with one sentence. */
export const keepFiles = async (folder: string, k: Kept): Promise<readonly string[]> => {
  const wav = checked(wavOf(k.timeline, { rate: RATE, channels: 1, levels: k.levels }))
  const table = onsets(k).map(o => JSON.stringify(o))
  const files = [
    { path: join(folder, 'demo.wav'), chunks: wav.chunks() },
    { path: join(folder, 'onsets.json'), chunks: [`[\n${table.join(',\n')}\n]\n`] },
    { path: join(folder, 'journal.jsonl'), chunks: [asLines(await journalLines(k))] },
    { path: join(folder, 'screen.txt'), chunks: [k.screen] },
  ]
  await writeFiles(files)
  return files.map(f => f.path)
}

import type { Placed, Program } from '../../click/program.ts'
import type { Sound } from '../../sound/sound.ts'

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

import type { Wrong } from '../../repertoire/note.ts'

/** Keeps what went wrong, and where. */
export type Wrongs = {
  readonly names: readonly Wrong[]
  /** Of the same verdict a second time: takes it back. Resolves with what to say. */
  readonly keep: (what: Wrong, place: string | undefined, verdict: string) => Promise<string>
}

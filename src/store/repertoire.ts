import { createHash } from 'node:crypto'
import { access, readdir, rename } from 'node:fs/promises'
import { basename, join } from 'node:path'
import { printable, type Result, sentence } from '../music/result.ts'
import { type Found, findPiece } from '../repertoire/find-piece.ts'
import { type Piece, parsePiece, pieceFile, pieceText } from '../repertoire/piece.ts'
import { syncFolder, writeDurably } from './durable.ts'
import { ensureFolder, type Home } from './home.ts'
import { readIfThere, readText } from './read-file.ts'
import { codeOf, type Done, StoreError, trouble } from './trouble.ts'
import { notInRepertoire, pieceChanged, pieceGone, pieceThere, twoCopies } from './words.ts'

/** A piece as it was read. `seen` stands for the text of its file: hand it back to `save`. */
export type Kept = { readonly piece: Piece; readonly seen: string; readonly file: string }

export type Repertoire = {
  /** Pieces by title; `notes` holds a sentence for each file that is damaged, newer or a second copy. */
  readonly list: () => Promise<{ readonly pieces: readonly Kept[]; readonly notes: readonly string[] }>
  /**
   * "PIECE" or "PIECE/PASSAGE", with `deep` a section too: exact, without regard to capitals, or the beginning if only one
   * begins so.
   */
  readonly find: (name: string, deep?: boolean) => Promise<Result<Found<Kept>>>
  /**
   * Writes a piece; `seen` as it was read, null for a new one. Gives the new `seen`, or the sentence why it was refused:
   * changed by someone else meanwhile, or not readable again. The text before stays beside it as `.bak`.
   */
  readonly save: (piece: Piece, seen: string | null) => Promise<Done<string>>
  /** Takes a piece out of the repertoire; gives the place where its file lies now. Its history stays. */
  readonly remove: (piece: Piece) => Promise<Done<string>>
}

const refuse = (message: string): { ok: false; message: string } => ({ ok: false, message })

const mark = (text: string): string => createHash('sha256').update(text).digest('hex')

const exists = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  )

/** The pieces, one readable file each. All calls throw StoreError when the disk or the folder fails. */
export const repertoire = (home: Home): Repertoire => {
  const folder = join(home.data, 'pieces')
  const CANNOT = "Can't write your pieces"
  let chain: Promise<unknown> = Promise.resolve()
  /** One change at a time, so that two saves in this process see each other. */
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const done = chain.then(work).catch(error => {
      throw trouble(CANNOT, folder, error)
    })
    chain = done.catch(() => {})
    return done
  }

  const names = async (): Promise<readonly string[]> => {
    try {
      return (await readdir(folder)).filter(n => n.endsWith('.json') && !n.startsWith('.')).sort()
    } catch (error) {
      if (codeOf(error) === 'ENOENT') return []
      throw trouble("Can't read your pieces", folder, error)
    }
  }

  const list = async () => {
    const notes: string[] = []
    const byId = new Map<string, Kept>()
    for (const name of await names()) {
      const file = join(folder, name)
      const text = await readIfThere(file).catch(error => {
        const said = trouble("Can't read a piece", file, error)
        if (!(said instanceof StoreError)) throw said
        notes.push(said.message)
        return null
      })
      if (text === null) continue
      const read = parsePiece(text)
      if (!read.ok) {
        notes.push(`${printable(file)} is left as it is. ${sentence(read.problem)}`)
        continue
      }
      const { id } = read.value
      const kept = { piece: read.value, seen: mark(text), file }
      const other = byId.get(id)
      // Of two copies (a sync tool makes them) the one under the proper name counts.
      const [used, spare] = other && !name.endsWith(`-${id}.json`) ? [other, kept] : [kept, other]
      byId.set(id, used)
      if (spare) notes.push(twoCopies(spare.file, basename(used.file)))
    }
    const pieces = [...byId.values()].sort((a, b) => a.piece.title.localeCompare(b.piece.title))
    return { pieces, notes }
  }

  const keptOf = async (id: string): Promise<Kept | undefined> =>
    (await list()).pieces.find(k => k.piece.id === id)

  const save = async (piece: Piece, seen: string | null): Promise<Done<string>> => {
    const text = pieceText(piece)
    const readable = parsePiece(text)
    if (!readable.ok) return refuse(`The piece was not stored. ${sentence(readable.problem)}`)
    await ensureFolder(folder, CANNOT)
    const { title } = readable.value
    const changed = new StoreError(pieceChanged(title))
    const kept = await keptOf(piece.id)
    if (seen === null && kept) return refuse(pieceThere(title))
    if (seen !== null && !kept) return refuse(pieceGone(title))
    const path = kept?.file ?? join(folder, pieceFile(readable.value))
    try {
      const before = await readIfThere(path)
      if ((before === null ? null : mark(before)) !== seen) throw changed
      if (before !== null) await writeDurably(`${path}.bak`, before)
      await writeDurably(path, text, async () => {
        if ((await readIfThere(path)) !== before) throw changed
      })
    } catch (error) {
      if (error === changed) return refuse(changed.message)
      throw error
    }
    return { ok: true, value: mark(text) }
  }

  const remove = async (piece: Piece): Promise<Done<string>> => {
    const kept = await keptOf(piece.id)
    if (!kept) return refuse(notInRepertoire(piece.title))
    const removed = join(folder, 'removed')
    await ensureFolder(removed, CANNOT)
    const name = basename(kept.file, '.json')
    let place = join(removed, `${name}.json`)
    for (let i = 2; await exists(place); i++) place = join(removed, `${name}-${i}.json`)
    await rename(kept.file, place)
    await syncFolder(removed)
    await syncFolder(folder)
    return { ok: true, value: place }
  }

  return {
    list,
    find: async (name, deep = false) => {
      const { pieces, notes } = await list()
      return findPiece(pieces, name, deep, notes)
    },
    save: (piece, seen) => inTurn(() => save(piece, seen)),
    remove: piece => inTurn(() => remove(piece)),
  }
}

/** Pieces that were taken out of the repertoire, as far as their files can be read: what was practiced keeps its name. */
export const removedPieces = async (home: Home): Promise<readonly Piece[]> => {
  const folder = join(home.data, 'pieces', 'removed')
  const names = (await readdir(folder).catch(() => [])).filter(name => name.endsWith('.json')).sort()
  const texts = await Promise.all(names.map(name => readText(join(folder, name)).catch(() => '')))
  return texts.flatMap(text => {
    const read = parsePiece(text)
    return read.ok ? [read.value] : []
  })
}

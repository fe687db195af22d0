import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { type Piece, parsePiece } from '../repertoire/piece.ts'
import type { Home } from './home.ts'
import { readText } from './read-file.ts'

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

import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import type { Home } from '../../src/store/home.ts'

const filesOf = (home: Home): readonly string[] => {
  mkdirSync(home.data, { recursive: true })
  return readdirSync(home.data, { recursive: true, encoding: 'utf8' }).filter(name => /\.jsonl?$/.test(name))
}

/**
 * What a sync tool does with a folder, in one direction: a file that is new, longer or changed later replaces the
 * other; `part` = of a file that is under way only so much has come.
 */
const copied = (from: Home, to: Home, part: number): void => {
  for (const name of filesOf(from)) {
    const [here, there] = [join(from.data, name), join(to.data, name)]
    const text = readFileSync(here, 'utf8')
    const old = filesOf(to).includes(name) ? readFileSync(there, 'utf8') : null
    if (old === text || old?.startsWith(text)) continue
    if (old !== null && !text.startsWith(old) && statSync(there).mtimeMs > statSync(here).mtimeMs) continue
    mkdirSync(dirname(there), { recursive: true })
    writeFileSync(there, text.slice(0, Math.floor(part * text.length)))
  }
}

/** The same folder on two machines, in both directions. */
export const synced = (a: Home, b: Home): void => {
  copied(a, b, 1)
  copied(b, a, 1)
}

/** A sync that is under way: of what one has, the other has only the beginning. */
export const halfSynced = (from: Home, to: Home): void => copied(from, to, 0.7)

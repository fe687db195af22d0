import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { basename, join } from 'node:path'

/**
 * The license of a package: as it stands in its folder, else as its repository has it, kept in `texts`. A package
 * without either ends the release.
 */
export const licenseText = (project: string, folder: string): string => {
  const name = readdirSync(join(project, folder)).find(n => /^licen[cs]e/i.test(n))
  if (name !== undefined) return readFileSync(join(project, folder, name), 'utf8')
  const kept = `src/release/texts/${basename(folder)}.txt`
  if (existsSync(join(project, kept))) return readFileSync(join(project, kept), 'utf8')
  throw new Error(`${folder} brings no text of its license: put it into ${kept}`)
}

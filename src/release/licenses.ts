import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { PACKAGES_BESIDE } from './contents.ts'
import { NODE } from './systems.ts'

/** What esbuild says of a bundle (its metafile): the files that went into it. */
export type Bundle = { readonly inputs: Readonly<Record<string, unknown>> }
/** package-lock.json, as far as it is read here. */
export type Lock = {
  readonly packages: Readonly<
    Record<string, { readonly version?: string; readonly license?: string; readonly optional?: boolean }>
  >
}
export type Licensed = {
  readonly name: string
  readonly version: string
  /** As SPDX writes it: "MIT", "(MIT OR CC0-1.0)". */
  readonly license: string
  /** Its folder in the project. */
  readonly folder: string
}

/** The folders of the packages of which something is in the bundle: "node_modules/ink", also one inside another. */
const bundled = (bundle: Bundle): readonly string[] => {
  const folders = Object.keys(bundle.inputs).flatMap(path => {
    const inside = path.slice(Math.max(0, path.indexOf('node_modules/')))
    return /^((?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(inside)?.[1] ?? []
  })
  return [...new Set(folders)].sort()
}

const licensed = (folder: string, lock: Lock): Licensed => {
  const found = lock.packages[folder]
  return {
    name: folder.slice(folder.lastIndexOf('node_modules/') + 'node_modules/'.length),
    version: found?.version ?? 'unknown',
    license: found?.license ?? 'unknown',
    folder,
  }
}

/** All code of others that is shipped, Node apart: inside the program, and beside it in the archives. */
export const shipped = (
  bundle: Bundle,
  lock: Lock,
): { readonly inside: readonly Licensed[]; readonly beside: readonly Licensed[] } => ({
  inside: bundled(bundle).map(folder => licensed(folder, lock)),
  beside: PACKAGES_BESIDE.map(name => licensed(`node_modules/${name}`, lock)),
})

/** Licenses that ask for no more than their text and the names of the authors; common practice, no legal advice. */
const PERMISSIVE =
  'MIT ISC BSD-2-Clause BSD-3-Clause 0BSD Apache-2.0 BlueOak-1.0.0 CC0-1.0 Unlicense Zlib'.split(' ')

/** Can it be shipped with a program under the MIT license? Of licenses joined by OR one must do, by AND each. */
export const compatible = (license: string): boolean =>
  license
    .replace(/[()]/g, '')
    .split(' OR ')
    .some(choice => choice.split(' AND ').every(one => PERMISSIVE.includes(one.trim())))

const table = (rows: readonly Licensed[]): string =>
  ['| package | version | license |', '|---|---|---|']
    .concat(rows.map(r => `| ${r.name} | ${r.version} | ${r.license} |`))
    .join('\n')

/** The page docs/licenses.md, written by `npm run release`. */
export const licensesPage = (bundle: Bundle, lock: Lock): string => {
  const { inside, beside } = shipped(bundle, lock)
  return `# Licenses

Gradino is under the MIT license (LICENSE). Everything else in a download is listed here; \`licenses.txt\` in each download, and in the package, has the full texts. \`npm run release\` writes this page; a test checks that it is current and that every license lets the package be shipped with a program under MIT.

## Inside the program

${table(inside)}

## Beside it, in the downloads: sound output and MIDI pedals

${table(beside)}

The MIDI package holds RtMidi by Gary P. Scavone, under a license like MIT. On Linux both load the system's own ALSA library (LGPL-2.1), which is not in the download.

## Node

Node ${NODE}, under the MIT license, with the libraries that its license file names (\`node/LICENSE\` in each download).

## Not shipped

naudiodon (Apache-2.0) and speaker (MIT AND LGPL-2.1) are two more sound outputs. Neither is in a download or in the package: npm fetches and compiles them, where it can, on the computer of whoever installs the package.
`
}

/** All license texts in one file; \`textOf\` gives that of a package's folder. */
export const licenseTexts = (bundle: Bundle, lock: Lock, textOf: (folder: string) => string): string => {
  const { inside, beside } = shipped(bundle, lock)
  const rule = '-'.repeat(72)
  return [...inside, ...beside]
    .map(p => `${p.name} ${p.version} (${p.license})\n\n${textOf(p.folder).trim()}\n`)
    .join(`\n${rule}\n\n`)
}

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

import { execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join, relative } from 'node:path'
import envPaths from 'env-paths'
import { zipSync } from 'fflate'
import { version } from '../../package.json'
import { contents, nodeName, programCard, startScript } from './contents.ts'
import { type Bundle, type Lock, licensesPage, licenseText, licenseTexts } from './licenses.ts'
import { archiveName, NODE, onWindows, SYSTEMS, type System } from './systems.ts'
import { startPage } from './words.ts'

/**
 * Run by npm: `notes` writes what stands beside the bundle (manual, licenses); `archives [system...]` makes one archive
 * a system. The registry is asked through npm alone; what it gives is kept outside the project and checked each time.
 */

const OUT = join('dist', 'archives')
const CACHE = process.env.GRADINO_RELEASE_CACHE ?? envPaths('gradino-release', { suffix: '' }).cache

const say = (line: string): boolean => process.stdout.write(`${line}\n`)
const json = <T>(path: string): T => JSON.parse(readFileSync(path, 'utf8')) as T
const megabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(1)} MB`

/** All files under a folder, relative to it; of the project itself without what others made. */
const listed = (folder: string): readonly string[] => {
  const walk = (dir: string): readonly string[] =>
    readdirSync(dir, { withFileTypes: true }).flatMap(e => {
      if (dir === '.' && (e.name === 'node_modules' || e.name.startsWith('.git'))) return []
      const path = join(dir, e.name)
      return e.isDirectory() ? walk(path) : [path]
    })
  return walk(folder)
    .map(path => relative(folder, path).replaceAll('\\', '/'))
    .sort()
}

const notes = (): void => {
  const bundle = json<Bundle>('dist/parts.json')
  const lock = json<Lock>('package-lock.json')
  writeFileSync('docs/licenses.md', licensesPage(bundle, lock))
  writeFileSync(
    'dist/licenses.txt',
    licenseTexts(bundle, lock, folder => licenseText('.', folder)),
  )
  const man = execFileSync(process.execPath, ['dist/main.js', 'completion', 'man'])
  writeFileSync('dist/gradino.1', man)
}

/** The package of the registry with Node for a system; one that is not as it was when it was chosen ends the release. */
const nodePackage = (s: System): string => {
  const file = join(CACHE, `${s.node}-${NODE}.tgz`)
  if (!existsSync(file)) {
    mkdirSync(CACHE, { recursive: true })
    const wanted = `${s.node}@${NODE}`
    execFileSync('npm', ['pack', '--silent', '--pack-destination', CACHE, wanted], { stdio: 'ignore' })
  }
  const sum = `sha512-${createHash('sha512').update(readFileSync(file)).digest('base64')}`
  if (sum !== s.integrity) throw new Error(`${file}: its checksum is not the one in systems.ts`)
  return file
}

const unpack = (file: string, name: string, into: string): void => {
  mkdirSync(into, { recursive: true })
  const depth = `--strip-components=${name.split('/').length}`
  execFileSync('tar', ['-xzf', file, '-C', into, depth, `package/${name}`])
}

/** Writes the archive of a folder beside others; the same files give the same bytes, whoever packs them. */
const pack = (s: System, above: string, folder: string): string => {
  const file = join(OUT, archiveName(s, version))
  if (onWindows(s)) {
    const files = listed(join(above, folder)).map(p => [
      `${folder}/${p}`,
      readFileSync(join(above, folder, p)),
    ])
    writeFileSync(file, zipSync(Object.fromEntries(files), { level: 6, mtime: '2000-01-01T12:00:00' }))
  } else {
    const same = '--sort=name --owner=0 --group=0 --numeric-owner --mtime=2000-01-01 --mode=u+w,go-w'.split(
      ' ',
    )
    execFileSync('tar', [...same, '--use-compress-program=gzip -n', '-cf', file, '-C', above, folder])
  }
  return file
}

const archive = (s: System): void => {
  const above = mkdtempSync(join(tmpdir(), 'gradino-release-'))
  const folder = `gradino-${version}-${s.name}`
  const at = (path: string): string => {
    const full = join(above, folder, path)
    mkdirSync(dirname(full), { recursive: true })
    return full
  }
  try {
    for (const { from, to } of contents(s, listed)) cpSync(from, at(to), { dereference: true })
    writeFileSync(at('program/package.json'), programCard(version))
    writeFileSync(at('START.txt'), startPage(s, version))
    const start = startScript(s)
    writeFileSync(at(start.name), start.text)
    chmodSync(at(start.name), 0o755)
    unpack(nodePackage(s), `bin/${nodeName(s)}`, at('node'))
    // The package for Windows lacks the text; it is the same for all systems.
    const [usual = s] = SYSTEMS
    unpack(nodePackage(onWindows(s) ? usual : s), 'LICENSE', at('node'))
    const bytes = listed(join(above, folder)).reduce((sum, p) => sum + statSync(at(p)).size, 0)
    const file = pack(s, above, folder)
    say(`${file}: ${megabytes(statSync(file).size)}, unpacked ${megabytes(bytes)}`)
  } finally {
    rmSync(above, { recursive: true, force: true })
  }
}

const archives = (names: readonly string[]): void => {
  const unknown = names.find(n => !SYSTEMS.some(s => s.name === n))
  if (unknown !== undefined)
    throw new Error(`"${unknown}" is no system. Try ${SYSTEMS.map(s => s.name).join(', ')}`)
  mkdirSync(OUT, { recursive: true })
  for (const s of SYSTEMS.filter(x => names.length === 0 || names.includes(x.name))) archive(s)
}

const [what, ...names] = process.argv.slice(2)
if (what === 'notes') notes()
else archives(names)

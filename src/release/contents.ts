import { onWindows, type System } from './systems.ts'

/** One file of an archive: where it is taken from (a path in the project) and where it goes. */
export type Shipped = { readonly from: string; readonly to: string }

/** The packages that stand beside the program, since they hold machine code, and which of their files are needed. */
const BESIDE: Readonly<Record<string, (s: System) => RegExp>> = {
  '@echogarden/audio-io': s =>
    new RegExp(`^(package\\.json|LICENSE\\.md|dist/(?!Test)\\w+\\.js|addons/bin/${s.sound})$`),
  '@echogarden/wave-codec': () => /^(package\.json|LICENSE\.md|dist\/(?!Test|test).+\.js)$/,
  '@julusian/midi': s =>
    new RegExp(
      `^(package\\.json|LICENSE|binding-options\\.js|load-native\\.js|dist/.+\\.js|prebuilds/${s.midi}/.+\\.node)$`,
    ),
  'pkg-prebuilds': () => /^(package\.json|LICENSE|bindings\.js|lib\/prebuild\.js)$/,
  tslib: () => /^(package\.json|LICENSE\.txt|tslib\.js)$/,
}
export const PACKAGES_BESIDE: readonly string[] = Object.keys(BESIDE)

/** Of the project itself: the bundle, what is written beside it, and the presets. */
const OURS = /^(dist\/([\w-]+\.js|licenses\.txt|gradino\.1)|presets\/[\w-]+\.json|LICENSE)$/
/** What a player looks for lies on top; the rest under "program". */
const ON_TOP: Readonly<Record<string, string>> = {
  LICENSE: 'LICENSE.txt',
  'dist/licenses.txt': 'licenses.txt',
  'dist/gradino.1': 'gradino.1',
}

/** What an archive holds, of all files that there are: `listed` gives the paths of a folder, relative to it. */
export const contents = (s: System, listed: (folder: string) => readonly string[]): readonly Shipped[] => {
  const ours = listed('.').filter(path => OURS.test(path))
  return [
    ...ours.map(from => ({ from, to: ON_TOP[from] ?? `program/${from}` })),
    ...Object.entries(BESIDE).flatMap(([name, wanted]) => {
      const folder = `node_modules/${name}`
      const needed = listed(folder).filter(path => wanted(s).test(path))
      return needed.map(path => ({ from: `${folder}/${path}`, to: `program/${folder}/${path}` }))
    }),
  ]
}

/** Node sees by this that the bundle is made of modules. */
export const programCard = (version: string): string =>
  `${JSON.stringify({ name: 'gradino', version, type: 'module', private: true }, null, 2)}\n`

export const nodeName = (s: System): string => (onWindows(s) ? 'node.exe' : 'node')

/** Small young heap: what the screen needs is measured in docs/benchmarks.md. The player is told that this is an archive. */
const FLAGS = '--max-semi-space-size=1 --optimize-for-size'

/** The script that starts the program from any folder, also through a link to it; only the shell itself is needed, and readlink where it is a link. */
export const startScript = (s: System): { readonly name: string; readonly text: string } =>
  onWindows(s)
    ? {
        name: 'gradino.cmd',
        text: [
          '@echo off',
          'setlocal',
          'set GRADINO_ARCHIVE=1',
          `"%~dp0node\\node.exe" ${FLAGS} "%~dp0program\\dist\\main.js" %*`,
          '',
        ].join('\r\n'),
      }
    : {
        name: 'gradino',
        text: `#!/bin/sh
file=$0
while [ -L "$file" ]; do
  to=$(readlink "$file")
  case $to in
    /*) file=$to ;;
    *) file=\${file%/*}/$to ;;
  esac
done
case $file in
  */*) here=\${file%/*} ;;
  *) here=. ;;
esac
GRADINO_ARCHIVE=1
export GRADINO_ARCHIVE
exec "$here/node/node" ${FLAGS} "$here/program/dist/main.js" "$@"
`,
      }

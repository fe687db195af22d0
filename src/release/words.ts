import { NODE, onWindows, type System } from './systems.ts'

const unblock = (s: System): string =>
  s.name.startsWith('macos')
    ? `
   The first time, macOS may say that it can't check the program. Type once,
   in this folder:

       xattr -dr com.apple.quarantine .
`
    : ''

const everywhere = (s: System): string =>
  onWindows(s)
    ? 'add this folder to Path\nin the settings of your account.'
    : `link it into a folder of your PATH:

    ln -s "$PWD/gradino" ~/.local/bin/gradino`

const manual = (s: System): string =>
  onWindows(s) ? '' : '\nThe manual: man ./gradino.1. For the Tab key: ./gradino help completion.\n'

const tried = (s: System): string =>
  s.tried
    ? `This download was started and tried on ${s.called}.`
    : `This download was put together on Linux (x64). It has not been tried on
${s.called} yet: if something doesn't start, please tell us.`

/** The page "how to start" of an archive: at most 80 columns, read in any editor. */
export const startPage = (s: System, version: string): string => {
  const go = onWindows(s) ? 'gradino' : './gradino'
  const page = `Gradino ${version} for ${s.called}

HOW TO START

1. Keep this folder where it can stay. Nothing needs to be installed: Node
   ${NODE}, which runs the program, is inside.
2. Open a terminal in this folder and type:

       ${go}
${unblock(s)}
3. Enlarge the letters until about 80 by 24 of them fill the screen: you will
   read it from a music stand.

Watch a ladder being climbed first:   ${go} demo
Hear whether sound works:             ${go} sound --test
Just a click:                         ${go} click --tempo 60
Climb now, without saving a piece:    ${go} practice --goal 120
All commands:                         ${go} --help

THE PEDAL

A pedal for page turning works as it is: Page Down means clean, Page Up means
not clean. Teach Gradino any other with: ${go} setup

GOOD TO KNOW

To type gradino in any folder, ${everywhere(s)}
${manual(s)}
Your pieces and everything you practiced are not in this folder but where your
system keeps data, so you can replace or delete the folder and lose nothing.
To put them elsewhere: ${go} --home FOLDER. No network connection is ever
opened.

Stop when it hurts, and see a physician or therapist who treats musicians.
Keep the click quiet in headphones.

${tried(s)}
`
  return onWindows(s) ? page.replaceAll('\n', '\r\n') : page
}

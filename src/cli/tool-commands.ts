import type { Command } from 'commander'
import { type Typed, withLadder, withMusic } from './options.ts'
import type { Action } from './preset-commands.ts'
import type { RenderTyped } from './render.ts'
import type { SetupTyped } from './setup.ts'
import type { SoundTyped } from './sound.ts'

/** `ladder`, `render`, `setup`, `sound`. */
export const withTools = (program: Command, action: Action): void => {
  withLadder(program.command('ladder'))
    .description('the rungs from start to goal')
    .action(action(async (_, t: Typed) => (await import('./ladder.ts')).ladderCommand(t)))
  withMusic(withLadder(program.command('render [passage]')))
    .description('a click track, or a whole ladder, as a WAV or MIDI file')
    .option('--out <file>', 'the file to write: its ending says which kind (.wav, .mid)')
    .option('--tempo <tempo>', 'one tempo instead of a ladder: 112, or dotted-quarter=80')
    .option('--times <number>', 'repetitions of each tempo (1)')
    .option('--rate <number>', 'frames a second (48000)')
    .option('--onsets <file>', 'a table of all clicks as JSON: frame, seconds, role, measure, beat')
    .action(
      action(async (ctx, name: string | undefined, t: RenderTyped) =>
        (await import('./render.ts')).renderCommand(ctx, name, t),
      ),
    )
  program
    .command('setup')
    .description('the pedals, by pressing them; or one setting by an option')
    .option('--show', 'say what is set')
    .option('--pedals <number>', '1 or 2')
    .option('--instrument <name>', 'what you play: trumpet, cello, strings ... sets rests, click and words')
    .option('--after <what>', 'wait or go-on')
    .option('--rest <how>', 'between repetitions: usual, or as-long as what was played')
    .option('--keys <which>', 'while practicing: all, or pedals (every other key does nothing)')
    .option('--output <name>', 'auto, silent, or an output as gradino sound lists them')
    .option('--device <name>', 'a part of the name of a loudspeaker or headphones; usual = the usual one')
    .option('--awake <yes or no>', 'a faint stream that keeps wireless headphones awake')
    .option('--latency <milliseconds>', 'how much later the click is heard (wireless speakers)')
    .option('--a <hertz>', 'the A above middle C, for tones to tune to: 440')
    .option('--transposition <note>', 'what sounds when C is written: C, Bb, A, F, Eb, or Eb4')
    .option('--minutes <number>', 'minutes there are on a usual day, rests included (40)')
    .option('--breath <seconds>', 'what you can play in one breath (or with one bow), as 8')
    .option('--steady <yes or no>', 'a longer queue of sound, for a busy computer')
    .action(action(async (ctx, t: SetupTyped) => (await import('./setup.ts')).setupCommand(ctx, t)))
  program
    .command('sound')
    .description('the outputs: which work, and why not')
    .option('--test', 'play four beats on each output that works')
    .option('--choose', 'click and loudness, by ear')
    .option('--offset', 'press with the click, and learn how late you hear it (wireless headphones)')
    .option('--output <name>', 'the output to play through')
    .action(action(async (ctx, t: SoundTyped) => (await import('./sound.ts')).soundCommand(ctx, t)))
}

import { RATE } from '../stream.ts'
import { named } from './output.ts'
import { openPipe } from './pipe.ts'
import { sinks } from './system-devices.ts'

/** PulseAudio's and PipeWire's own player. Of the latency it is given it keeps two thirds in the server. */
export const openPacat = openPipe({
  name: 'pacat',
  args: ahead => [
    '-v',
    '--raw',
    `--rate=${RATE}`,
    '--format=s16le',
    '--channels=2',
    `--latency-msec=${1.5 * ahead}`,
  ],
  to: async device => [`--device=${named(await sinks(), device, s => `${s.title} ${s.name}`).name}`],
  extraMs: 1,
  opened: /Stream successfully created/,
  played: /Time: ([\d.]+) sec/,
})

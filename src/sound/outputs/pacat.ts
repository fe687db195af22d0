import { RATE } from '../stream.ts'
import { openPipe } from './pipe.ts'

/** PulseAudio's and PipeWire's own player. */
export const openPacat = openPipe({
  name: 'pacat',
  args: ['-v', '--raw', `--rate=${RATE}`, '--format=s16le', '--channels=2', '--latency-msec=50'],
  extraMs: 1,
  opened: /Stream successfully created/,
  played: /Time: ([\d.]+) sec/,
})

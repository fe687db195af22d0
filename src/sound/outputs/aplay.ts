import { RATE } from '../stream.ts'
import { openPipe } from './pipe.ts'

/** ALSA's own player. */
export const openAplay = openPipe({
  name: 'aplay',
  args: ahead => [
    '-v',
    '-t',
    'raw',
    '-f',
    'S16_LE',
    '-c',
    '2',
    '-r',
    `${RATE}`,
    `--buffer-time=${1000 * ahead}`,
  ],
  extraMs: 1,
  opened: /Its setup is/,
})

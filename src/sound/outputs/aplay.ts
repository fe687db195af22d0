import { RATE } from '../stream.ts'
import { openPipe } from './pipe.ts'

/** ALSA's own player. */
export const openAplay = openPipe({
  name: 'aplay',
  args: ['-v', '-t', 'raw', '-f', 'S16_LE', '-c', '2', '-r', `${RATE}`, '--buffer-time=100000'],
  extraMs: 1,
  opened: /Its setup is/,
})

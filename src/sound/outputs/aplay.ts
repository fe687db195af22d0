import { RATE } from '../stream.ts'
import { named } from './output.ts'
import { openPipe } from './pipe.ts'
import { alsaDevices } from './system-devices.ts'

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
  to: async device => ['-D', named(await alsaDevices(), device, name => name)],
  extraMs: 1,
  opened: /Its setup is/,
})

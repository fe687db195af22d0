import { execFile } from 'node:child_process'

/** A program of the system that lists devices answers in less than this, ms; a sound server that hangs never does. */
const LIMIT = 1000

const said = (command: string, args: readonly string[]): Promise<string> =>
  new Promise(resolve => {
    const env = { ...process.env, LC_ALL: 'C' }
    execFile(command, args, { env, timeout: LIMIT, killSignal: 'SIGKILL' }, (error, out) =>
      resolve(error ? '' : out),
    )
  })

/** A loudspeaker or a pair of headphones as the sound server knows it. `title` is for people. */
export type Sink = { readonly name: string; readonly title: string }

/** Of PulseAudio or PipeWire; empty where there is none. */
export const sinks = async (): Promise<readonly Sink[]> => {
  const text = await said('pactl', ['list', 'sinks'])
  return text.split(/^Sink #/m).flatMap(one => {
    const name = /^\s*Name: (.+)$/m.exec(one)?.[1]
    return name ? [{ name, title: /^\s*Description: (.+)$/m.exec(one)?.[1] ?? name }] : []
  })
}

/** The one that plays where none is chosen. */
export const defaultSink = async (): Promise<string | null> => {
  const [all, info] = await Promise.all([sinks(), said('pactl', ['info'])])
  const name = /^Default Sink: (.+)$/m.exec(info)?.[1]
  return all.find(s => s.name === name)?.title ?? null
}

/** Devices of ALSA that play, by the names that it takes; its converters are none. */
export const alsaDevices = async (): Promise<readonly string[]> =>
  (await said('aplay', ['-L'])).split('\n').filter(line => /^\S+:|^(default|pulse|pipewire)$/.test(line))

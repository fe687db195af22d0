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

const defaultName = async (): Promise<string | null> =>
  /^Default Sink: (.+)$/m.exec(await said('pactl', ['info']))?.[1] ?? null

/** The one that plays where none is chosen, by its title. */
export const defaultSink = async (): Promise<string | null> => {
  const [all, name] = await Promise.all([sinks(), defaultName()])
  return all.find(s => s.name === name)?.title ?? null
}

/** Between two looks at where the system plays, ms. */
const LOOK = 2000

/**
 * Tells the title of the loudspeaker each time that the system's own choice changes (headphones plugged in): a sound
 * server takes the streams along without a word to them. For as long as the process lives.
 */
export const watchDefaultSink = (moved: (title: string) => void): void => {
  let before: string | null = null
  const look = async (): Promise<void> => {
    const name = await defaultName()
    if (before !== null && name !== null && name !== before) {
      const title = await defaultSink()
      if (title !== null) moved(title)
    }
    before = name ?? before
    setTimeout(look, LOOK).unref()
  }
  void look()
}

/** Devices of ALSA that play, by the names that it takes; its converters are none. */
export const alsaDevices = async (): Promise<readonly string[]> =>
  (await said('aplay', ['-L'])).split('\n').filter(line => /^\S+:|^(default|pulse|pipewire)$/.test(line))

import { execFileSync, spawn, spawnSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { afterEach, describe, expect, test, vi } from 'vitest'
import { DEFAULT_LEVELS } from '../../src/click/voices.ts'
import { beginSound, openSound } from '../../src/sound/open-sound.ts'
import { DEVICES, type Device, type OutputName } from '../../src/sound/outputs/output.ts'
import { startPlayer } from '../../src/sound/player-process.ts'
import { probeOutputs } from '../../src/sound/probe-outputs.ts'
import type { Sound, SoundEvent } from '../../src/sound/sound.ts'
import { missing, nothingHere, onsetsIn, type Pulse, startPulse } from './pulse.ts'
import { clicks, clock, PLAYER, tempo } from './scene.ts'

const lacks = missing()
if (lacks) process.stderr.write(`The sound server tests are left out: ${lacks} is not installed.\n`)

const wait = (ms: number) => new Promise(r => setTimeout(r, ms))

/** Process ids of the sound processes that belong to `parent`. */
const players = (parent: number): number[] =>
  execFileSync('ps', ['-A', '-o', 'pid=,ppid=,args='], { encoding: 'utf8' })
    .split('\n')
    .map(l => l.trim().split(/\s+/))
    .filter(([, ppid, ...args]) => Number(ppid) === parent && args.join(' ').includes('player.js'))
    .map(([pid]) => Number(pid))

/** A process that has ended but was not yet collected counts as gone. */
const alive = (pid: number): boolean =>
  /^[^Z]/.test(spawnSync('ps', ['-o', 'stat=', '-p', `${pid}`], { encoding: 'utf8' }).stdout.trim())

const open = (output: 'auto' | OutputName) =>
  openSound({ output, now: clock, player: PLAYER, levels: DEFAULT_LEVELS })

/** Waits for an event and tells how long it took, ms. */
const until = async (sound: Sound, test: (e: SoundEvent) => boolean): Promise<number> => {
  const began = clock()
  await new Promise<void>(resolve => {
    const off = sound.on(e => {
      if (!test(e)) return
      off()
      resolve()
    })
  })
  return clock() - began
}

const use = (env: Readonly<Record<string, string>>): void => {
  for (const [k, v] of Object.entries(env)) vi.stubEnv(k, v)
}

let toClose: (() => unknown)[] = []
afterEach(async () => {
  for (const c of toClose.reverse()) await c()
  toClose = []
  vi.unstubAllEnvs()
})

describe('no sound device at all', () => {
  test('the silent clock takes over within three seconds, and every output has a plain reason', async () => {
    const quiet = nothingHere()
    toClose.push(quiet.close)
    use(quiet.env)
    const began = clock()
    const sound = await open('auto')
    const took = clock() - began
    toClose.push(sound.close)
    process.stdout.write(`no device: silent after ${took.toFixed(0)} ms\n`)
    expect(sound.output()).toBe('silent')
    expect(took).toBeLessThan(3000)
    expect(sound.refused().map(r => r.name)).toEqual(DEVICES)
    for (const r of sound.refused())
      expect(r.why).toMatch(/no sound device found|not installed|npm rebuild|libasound2/)
    expect(players(process.pid)).toEqual([])
    const id = sound.play(tempo(240, 4), 'now')
    await until(sound, e => e.k === 'started')
    expect(Math.abs((sound.heardAt(id, 0) ?? 0) - clock())).toBeLessThan(50)
  })

  test('an output asked for by name is tried alone, then silence, with the reason kept', async () => {
    const quiet = nothingHere()
    toClose.push(quiet.close)
    use(quiet.env)
    const sound = await open('aplay')
    toClose.push(sound.close)
    expect(sound.output()).toBe('silent')
    expect(sound.refused().map(r => r.name)).toEqual(['aplay'])
  })
})

describe('before an output is ready', () => {
  const begin = () => {
    const quiet = nothingHere()
    toClose.push(quiet.close)
    use(quiet.env)
    const sound = beginSound({ output: 'aplay', now: clock, player: PLAYER, levels: DEFAULT_LEVELS })
    toClose.push(sound.close)
    const started: number[] = []
    sound.on(e => {
      if (e.k === 'started') started.push(e.id)
    })
    return { sound, started }
  }

  test('what is asked for waits; the latest "now" replaces what waited before it', async () => {
    const { sound, started } = begin()
    const first = sound.play(tempo(240, 1), 'now')
    sound.play(tempo(240, 1), first)
    const second = sound.play(clicks(4800, [0]), 'now')
    const behind = sound.play(clicks(4800, [0]), second)
    expect(sound.heardAt(second, 0)).toBeNull()
    await sound.ready()
    await wait(300)
    expect(started).toEqual([second, behind])
  })

  test('a stop forgets what waits', async () => {
    const { sound, started } = begin()
    sound.play(tempo(240, 1), 'now')
    sound.stop()
    await sound.ready()
    await wait(100)
    expect(started).toEqual([])
  })

  test('closing gives up opening at once and leaves no process behind', async () => {
    const { sound } = begin()
    const began = clock()
    await sound.close()
    expect(clock() - began).toBeLessThan(200)
    await wait(50)
    expect(players(process.pid)).toEqual([])
  })
})

describe.skipIf(lacks !== null)('when something breaks', () => {
  const server = async (): Promise<Pulse> => {
    const pulse = await startPulse()
    toClose.push(pulse.close)
    use(pulse.env)
    return pulse
  }

  test('each output is reported: what works, how deep, how fast', async () => {
    await server()
    const reports = await probeOutputs({ player: PLAYER, now: clock })
    for (const r of reports) process.stdout.write(`${JSON.stringify(r)}\n`)
    expect(reports.map(r => r.name)).toEqual(DEVICES)
    for (const r of reports) if (r.works) expect(r.depthMs).toBeLessThan(150)
    expect(reports.filter(r => r.works).map(r => r.name)).toContain('pacat')
    expect(players(process.pid)).toEqual([])
  })

  test('a sound process that is killed is started anew; killed again, the next output plays', async () => {
    await server()
    const sound = await open('auto')
    toClose.push(sound.close)
    const first = sound.output()
    const a = sound.play(tempo(120, 20), 'now')
    const queued = sound.play(tempo(120, 20), a)
    await until(sound, e => e.k === 'started')
    const heard = sound.heardAt(a, 0)
    const events: SoundEvent[] = []
    sound.on(e => events.push(e))

    process.kill(players(process.pid)[0] as number, 'SIGKILL')
    await until(sound, e => e.k === 'output')
    expect(events).toEqual([
      { k: 'trouble', kind: 'gone', output: first },
      { k: 'output', name: first },
    ])
    // What was heard was heard; what was queued is gone.
    expect(sound.heardAt(a, 0)).toBe(heard)
    expect(sound.heardAt(queued, 0)).toBeNull()

    process.kill(players(process.pid)[0] as number, 'SIGKILL')
    await wait(50)
    // Asked for while no output is open: waits for the next one.
    const b = sound.play(tempo(120, 20), 'now')
    await until(sound, e => e.k === 'started' && e.id === b)
    expect(sound.output()).toBe(DEVICES[DEVICES.indexOf(first as Device) + 1])
    expect(sound.refused()).toContainEqual({ name: first, why: 'broke off while playing: SIGKILL' })
    expect(sound.heardAt(b, 0)).toBeGreaterThan(heard ?? 0)
  })

  test.each(['naudiodon', 'pacat'] as const)(
    '%s: the sound server dies, it is said, and silence goes on',
    async device => {
      const pulse = await server()
      const sound = await open(device)
      toClose.push(sound.close)
      expect(sound.output()).toBe(device)
      sound.play(tempo(120, 40), 'now')
      await until(sound, e => e.k === 'started')
      const told = until(sound, e => e.k === 'trouble' && e.kind !== 'underrun')
      const silent = until(sound, e => e.k === 'output' && e.name === 'silent')
      pulse.kill()
      const tookToTell = await told
      await silent
      process.stdout.write(`${device}: server dead, told after ${tookToTell.toFixed(0)} ms\n`)
      expect(tookToTell).toBeLessThan(2000)
      expect(players(process.pid)).toEqual([])
    },
  )

  test('a sound server that hangs is told within two seconds, and closing does not hang with it', async () => {
    const pulse = await server()
    const sound = await open('audio-io')
    toClose.push(sound.close)
    sound.play(tempo(120, 40), 'now')
    await until(sound, e => e.k === 'started')
    const told = until(sound, e => e.k === 'trouble' && e.kind === 'stalled')
    pulse.freeze()
    expect(await told).toBeLessThan(2000)
    await wait(300)
    const began = clock()
    await sound.close()
    expect(clock() - began).toBeLessThan(1000)
    pulse.thaw()
    expect(players(process.pid)).toEqual([])
  })

  test('a machine that stops for 300 ms gives an underrun, and the clock is right again after it', async () => {
    const pulse = await server()
    const sound = await open('auto')
    toClose.push(sound.close)
    const recording = pulse.record()
    await wait(200)
    const bars = tempo(150, 12)
    const id = sound.play(bars, 'now')
    await until(sound, e => e.k === 'started')
    await wait(900)
    const pid = players(process.pid)[0] as number
    const trouble = until(sound, e => e.k === 'trouble' && e.kind === 'underrun')
    process.kill(pid, 'SIGSTOP')
    await wait(300)
    process.kill(pid, 'SIGCONT')
    await trouble
    await wait(3900)
    const { samples, heardAt } = await recording.stop()
    const onsets = onsetsIn(samples)
    expect(onsets).toHaveLength(12)
    const off = onsets.map(
      (f, i) => (sound.heardAt(id, bars.onsets[i]?.frame ?? 0) ?? Number.NaN) - (heardAt + f / 48),
    )
    for (const o of off) expect(Math.abs(o)).toBeLessThan(25)
    const lengths = onsets.slice(1).map((f, i) => f - (onsets[i] as number))
    expect(Math.max(...lengths)).toBeGreaterThan(19200 + 4800)
    expect(Math.min(...lengths)).toBe(19200)
  })

  test('a message that makes no sense is reported, not swallowed', async () => {
    await server()
    const said = await new Promise<string>((resolve, reject) => {
      void startPlayer({
        player: PLAYER,
        start: { output: 'pacat', deep: false, device: null, faint: false, list: false },
        patience: 10_000,
        tell: () => {},
        ended: (_, why) => resolve(why),
      }).then(p => {
        if (p.ok) p.player.send({ k: 'play', id: 1, program: { ...tempo(120, 4), frames: -7 }, after: 'now' })
        else reject(new Error(p.why))
      })
    })
    expect(said).toMatch(/frames/)
    expect(players(process.pid)).toEqual([])
  })

  test('a parent that is killed leaves no sound process behind', async () => {
    const pulse = await server()
    const script = `
      import { fork } from 'node:child_process'
      const child = fork(process.argv[1], ['pacat'], { execArgv: [], stdio: ['pipe', 'ignore', 'ignore', 'ipc'] })
      child.on('message', m => { if (m.k === 'ready') process.stdout.write(child.pid + '\\n') })
    `
    const parent = spawn(process.execPath, ['--input-type=module', '-e', script, fileURLToPath(PLAYER)], {
      env: { ...process.env, ...pulse.env },
      stdio: ['ignore', 'pipe', 'ignore'],
    })
    const pid = await new Promise<number>(resolve => parent.stdout.once('data', d => resolve(Number(d))))
    expect(alive(pid)).toBe(true)
    const began = clock()
    parent.kill('SIGKILL')
    while (alive(pid) && clock() - began < 1000) await wait(10)
    process.stdout.write(`parent killed: player gone after ${(clock() - began).toFixed(0)} ms\n`)
    expect(alive(pid)).toBe(false)
  })
})

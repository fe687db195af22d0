import { spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { afterEach, describe, expect, inject, test, vi } from 'vitest'
import { DEFAULT_LEVELS } from '../../src/click/voices.ts'
import { beginSound } from '../../src/sound/open-sound.ts'
import { DEVICES } from '../../src/sound/outputs/output.ts'
import { startPlayer } from '../../src/sound/player-process.ts'
import { probeOutputs } from '../../src/sound/probe-outputs.ts'
import type { SoundEvent } from '../../src/sound/sound.ts'
import { alive, beat, closeAll, gone, open, players, toClose, until, use, wait } from './breaking.ts'
import { processes } from './processes.ts'
import { nothingHere, onsetsIn, type Room, roomOf, roomOfItsOwn } from './pulse.ts'
import { clicks, clock, PLAYER, tempo } from './scene.ts'
import { hereAndNow } from './slowness.ts'

afterEach(closeAll)

describe('no sound device at all', () => {
  test('the silent clock takes over within three seconds, and every output has a plain reason', async () => {
    const quiet = nothingHere()
    toClose.push(quiet.close)
    use(quiet.env)
    const began = clock()
    const sound = await open('auto')
    const took = clock() - began
    process.stdout.write(`no device: silent after ${took.toFixed(0)} ms\n`)
    expect(sound.output()).toBe('silent')
    expect(took).toBeLessThan(hereAndNow(3000))
    // What has not answered by then is still tried.
    const tried = (): readonly string[] =>
      sound
        .refused()
        .map(r => r.name)
        .sort()
    await vi.waitFor(() => expect(tried()).toEqual([...DEVICES].sort()), 20_000)
    for (const r of sound.refused())
      expect(r.why).toMatch(/no sound device found|isn't installed|npm rebuild|libasound2/)
    const id = sound.play(tempo(240, 4), 'now')
    await until(sound, e => e.kind === 'started')
    expect(Math.abs((sound.heardAt(id, 0) ?? 0) - clock())).toBeLessThan(hereAndNow(50))
  })

  test('an output asked for by name is tried alone, then silence, with the reason kept', async () => {
    const quiet = nothingHere()
    toClose.push(quiet.close)
    use(quiet.env)
    const sound = await open('aplay')
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
      if (e.kind === 'started') started.push(e.id)
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
    expect(clock() - began).toBeLessThan(hereAndNow(500))
    await gone()
  })
})

const env = inject('soundServer')
describe.skipIf(env === null)('when something breaks, and the sound server stays', () => {
  const shared = (): Room => {
    use(env ?? {})
    return roomOf(env ?? {})
  }

  test('each output is reported: what works, where it is heard, how deep, how fast', async () => {
    shared()
    const reports = await probeOutputs({ player: PLAYER, now: clock })
    for (const r of reports) process.stdout.write(`${JSON.stringify(r)}\n`)
    expect(reports.map(r => r.name)).toEqual(DEVICES)
    for (const r of reports) if (r.works) expect(r.depthMs).toBeLessThan(150)
    const pacat = reports.find(r => r.name === 'pacat')
    expect(pacat).toMatchObject({ works: true, device: 'Null Output' })
    expect(pacat?.works && pacat.devices).toContain('Null Output')
    await gone()
  })

  /** Process ids of the programs that a sound process plays through. */
  const pipes = (parent: number | undefined): number[] =>
    processes()
      .filter(p => p.parent === parent && !p.args.startsWith('pactl'))
      .map(p => p.pid)

  test.each([
    ['its process is killed', 'auto', 'gone', () => players(process.pid), 'SIGKILL'],
    ['its process hangs', 'auto', 'stalled', () => players(process.pid), 'SIGSTOP'],
    [
      'the program behind its pipe is killed',
      'pacat',
      'gone',
      () => pipes(players(process.pid)[0]),
      'SIGKILL',
    ],
  ] as const)(
    '%s: the click is back within two seconds, by itself and in time',
    async (_, output, kind, whose, signal) => {
      shared()
      const sound = await open(output)
      const first = sound.output()
      const a = sound.play(tempo(240, 8), 'now')
      const b = sound.play(tempo(120, 40), a)
      await until(sound, e => e.kind === 'started')
      await wait(400)
      const off = beat(sound, a)
      const events: SoundEvent[] = []
      sound.on(e => events.push(e))
      for (const pid of whose()) process.kill(pid, signal)
      const took = await until(sound, e => e.kind === 'output' && e.name !== 'silent')
      process.stdout.write(`${signal}: back after ${took.toFixed(0)} ms\n`)
      expect(took).toBeLessThan(hereAndNow(2000))
      expect(events.find(e => e.kind === 'trouble' && e.what !== 'underrun')).toEqual({
        kind: 'trouble',
        what: kind,
        output: first,
      })
      await wait(300)
      off.kept()
      // What was queued goes on behind it, as if nothing had happened.
      if (sound.heardAt(b, 0) === null) await until(sound, e => e.kind === 'started' && e.id === b)
      off.kept(2 * 48_000, sound.heardAt(b, 0) ?? 0)
      expect(players(process.pid)).toHaveLength(1)
      await sound.close()
      await gone()
    },
  )

  test('an output that broke off twice is the last to be tried again', async () => {
    shared()
    const sound = await open('auto')
    const first = sound.output()
    process.kill(players(process.pid)[0] as number, 'SIGKILL')
    await until(sound, e => e.kind === 'output')
    expect(sound.output()).not.toBe(first)
    expect(sound.refused()).toContainEqual({ name: first, why: 'broke off while playing: SIGKILL' })
  })

  test('a stop while no output is open stops what would have gone on', async () => {
    shared()
    const sound = await open('pacat')
    sound.play(tempo(120, 20), 'now')
    await until(sound, e => e.kind === 'started')
    process.kill(players(process.pid)[0] as number, 'SIGKILL')
    await until(sound, e => e.kind === 'trouble')
    sound.stop()
    const b = sound.play(tempo(240, 20), 'now')
    const started: number[] = []
    sound.on(e => {
      if (e.kind === 'started') started.push(e.id)
    })
    await until(sound, e => e.kind === 'started')
    expect(started).toEqual([b])
  })

  test('a machine that stops for 300 ms gives an underrun, and the clock is right again after it', async () => {
    const room = await roomOfItsOwn(env ?? {}, 'stopped')
    use(room.env)
    const sound = await open('pacat')
    const recording = room.record()
    await wait(200)
    const bars = tempo(150, 60)
    const id = sound.play(bars, 'now')
    let [last, gaps] = [Number.NaN, 0]
    sound.on(e => {
      if (e.kind !== 'trouble' || e.what !== 'underrun') return
      last = clock()
      gaps++
    })
    await until(sound, e => e.kind === 'started')
    await wait(900)
    const pid = players(process.pid)[0] as number
    // Each gap so far made the queue longer: 100 ms, 200, at most 400. What it holds would bridge the stop.
    const queue = Math.min(400, 100 * 2 ** gaps)
    last = Number.NaN
    process.kill(pid, 'SIGSTOP')
    await wait(200 + queue)
    process.kill(pid, 'SIGCONT')
    // A busy machine stops by itself as well; what was heard when is known of the stretch after the last stop.
    const CALM = 1500
    while (!(clock() - last > CALM)) await wait(20)
    const { samples, heardAt } = await recording.stop()
    const onsets = onsetsIn(samples)
    const lengths = onsets.slice(1).map((f, i) => f - (onsets[i] as number))
    expect(Math.max(...lengths)).toBeGreaterThan(19200 + 4800)
    expect(Math.min(...lengths)).toBe(19200)
    const since = onsets.flatMap((f, i) => (heardAt + f / 48 > last ? [{ f, i }] : []))
    expect(since.length).toBeGreaterThan(2)
    for (const { f, i } of since) {
      const told = sound.heardAt(id, bars.onsets[i]?.frame ?? 0) ?? Number.NaN
      expect(Math.abs(told - (heardAt + f / 48))).toBeLessThan(25)
      expect(f - (since[0]?.f ?? 0)).toBe(19200 * (i - (since[0]?.i ?? 0)))
    }
  })

  test('a device is chosen by a part of its name; one that is not there is said, and the usual one plays', async () => {
    const room = shared()
    await room.addSink('phones', 'Headphones')
    const chosen = await open('pacat', { device: 'headphones' })
    const recording = room.record('phones')
    await wait(200)
    chosen.play(tempo(240, 4), 'now')
    await wait(1500)
    expect(onsetsIn((await recording.stop()).samples)).toHaveLength(4)
    expect(chosen.absent()).toBeNull()
    await chosen.close()
    const other = await open('pacat', { device: 'studio' })
    expect(other.output()).toBe('pacat')
    expect(other.absent()).toBe('studio')
  })

  test('each device has its own offset', async () => {
    shared()
    const sound = await open('pacat', { offsetMs: device => (device === 'Null Output' ? 180 : 0) })
    const plain = await open('pacat')
    const [late, usual] = [sound, plain].map(s => ({ s, id: s.play(tempo(240, 1), 'now'), asked: clock() }))
    await wait(400)
    const after = (x: typeof late): number => (x?.s.heardAt(x.id, 0) ?? 0) - (x?.asked ?? 0)
    expect(sound.device()).toBe('Null Output')
    expect(after(late) - after(usual)).toBeGreaterThan(150)
    expect(after(late) - after(usual)).toBeLessThan(210)
  })

  test('a message that makes no sense is reported, not swallowed', async () => {
    shared()
    const said = await new Promise<string>((resolve, reject) => {
      void startPlayer({
        player: PLAYER,
        start: { output: 'pacat', deep: false, device: null, faint: false, list: false },
        patience: 10_000,
        tell: () => {},
        ended: (_, why) => resolve(why),
      }).then(p => {
        if (p.ok)
          p.player.send({ kind: 'play', id: 1, program: { ...tempo(120, 4), frames: -7 }, after: 'now' })
        else reject(new Error(p.why))
      })
    })
    expect(said).toMatch(/frames/)
    await gone()
  })

  test('a parent that is killed leaves no sound process behind, nor what that one plays through', async () => {
    shared()
    const start = JSON.stringify({ output: 'pacat', deep: false, device: null, faint: false, list: false })
    const script = `
      import { fork } from 'node:child_process'
      const child = fork(process.argv[1], ['${start}'], { execArgv: [], stdio: ['pipe', 'ignore', 'ignore', 'ipc'] })
      child.on('message', m => { if (m.kind === 'ready') process.stdout.write(child.pid + '\\n') })
    `
    const parent = spawn(process.execPath, ['--input-type=module', '-e', script, fileURLToPath(PLAYER)], {
      env: { ...process.env, ...env },
      stdio: ['ignore', 'pipe', 'ignore'],
    })
    const pid = await new Promise<number>(resolve => parent.stdout.once('data', d => resolve(Number(d))))
    const all = [pid, ...pipes(pid)]
    expect(all).toHaveLength(2)
    const began = clock()
    parent.kill('SIGKILL')
    while (all.some(alive) && clock() - began < 2000) await wait(10)
    process.stdout.write(`parent killed: player gone after ${(clock() - began).toFixed(0)} ms\n`)
    expect(all.filter(alive)).toEqual([])
  })
})

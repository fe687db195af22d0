import { afterEach, describe, expect, test, vi } from 'vitest'
import { alive, beat, closeAll, gone, open, players, toClose, until, use, wait } from './breaking.ts'
import { missing, onsetsIn, type Pulse, startPulse } from './pulse.ts'
import { clock, tempo } from './scene.ts'
import { hereAndNow } from './slowness.ts'

afterEach(closeAll)

describe.skipIf(missing() !== null)('when the sound server breaks', () => {
  const server = async (): Promise<Pulse> => {
    const pulse = await startPulse()
    toClose.push(pulse.close)
    use(pulse.env)
    return pulse
  }

  test('it hangs for three seconds: the click is shown, and heard again within two seconds of its return', async () => {
    const pulse = await server()
    const sound = await open('auto')
    const id = sound.play(tempo(120, 60), 'now')
    await until(sound, e => e.kind === 'started')
    await wait(300)
    const off = beat(sound, id)
    const silent = until(sound, e => e.kind === 'output' && e.name === 'silent')
    pulse.freeze()
    const took = await silent
    process.stdout.write(`server frozen: silent after ${took.toFixed(0)} ms\n`)
    expect(took).toBeLessThan(hereAndNow(3000))
    off.kept()
    await wait(Math.max(0, 3000 - took))
    const back = until(sound, e => e.kind === 'output' && e.name !== 'silent')
    pulse.thaw()
    const returned = await back
    process.stdout.write(`server goes on: sound after ${returned.toFixed(0)} ms\n`)
    expect(returned).toBeLessThan(hereAndNow(2000))
    await wait(300)
    off.kept()
    await sound.close()
    await gone()
  })

  test('it hangs for good: closing does not hang with it, and nothing stays behind', async () => {
    const pulse = await server()
    const sound = await open('pacat')
    sound.play(tempo(120, 40), 'now')
    await until(sound, e => e.kind === 'started')
    const pid = players(process.pid)[0] as number
    pulse.freeze()
    const began = clock()
    await sound.close()
    expect(clock() - began).toBeLessThan(hereAndNow(1500))
    await gone()
    expect(alive(pid)).toBe(false)
    pulse.thaw()
  })

  test('it dies and is started again: silence in between, and the sound comes back by itself', async () => {
    const pulse = await server()
    const sound = await open('naudiodon')
    const id = sound.play(tempo(120, 60), 'now')
    await until(sound, e => e.kind === 'started')
    const told = until(sound, e => e.kind === 'trouble' && e.what !== 'underrun')
    const silent = until(sound, e => e.kind === 'output' && e.name === 'silent')
    pulse.kill()
    expect(await told).toBeLessThan(hereAndNow(2000))
    await silent
    const off = beat(sound, id)
    const back = until(sound, e => e.kind === 'output' && e.name !== 'silent')
    await pulse.revive()
    const took = await back
    process.stdout.write(`server started again: sound ${took.toFixed(0)} ms after that began\n`)
    await wait(300)
    off.kept()
    await sound.close()
    await gone()
  })
})

describe.skipIf(missing() !== null)('when headphones are put on', () => {
  test('the click goes there with the system, and the screen follows with the offset of the headphones', async () => {
    const pulse = await startPulse()
    toClose.push(pulse.close)
    use(pulse.env)
    const sound = await open('pacat', { offsetMs: device => (device === 'Headphones' ? 180 : 0) })
    const before = sound.play(tempo(240, 60), 'now')
    await until(sound, e => e.kind === 'started')
    const recorded = sound.heardAt(before, 48_000)
    await pulse.addSink('phones', 'Headphones')
    await pulse.choose('phones')
    await vi.waitUntil(() => sound.device() === 'Headphones', { timeout: 10_000 })
    expect(sound.output()).toBe('pacat')
    // What was heard before keeps its time; what begins now is heard later.
    expect(Math.abs((sound.heardAt(before, 48_000) ?? 0) - (recorded ?? 0))).toBeLessThan(60)
    const recording = pulse.record('phones')
    const asked = clock()
    const id = sound.play(tempo(240, 4), 'now')
    await wait(1400)
    expect(onsetsIn((await recording.stop()).samples).length).toBeGreaterThanOrEqual(4)
    expect((sound.heardAt(id, 0) ?? 0) - asked).toBeGreaterThan(180)
  })
})

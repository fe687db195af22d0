import { describe, expect, test } from 'vitest'
import { DEVICES, type Device } from '../../src/sound/outputs/output.ts'
import { search, voiceOf } from '../../src/sound/search.ts'
import { virtualClock } from './virtual-clock.ts'

type How = 'hangs' | { readonly opens: number } | { readonly fails: number }

/** Outputs that open or fail after so many ms, or hang; time passes only when it is told to. */
const setUp = async (how: Readonly<Partial<Record<Device, How>>>, names: readonly Device[] = DEVICES) => {
  const clock = virtualClock()
  const began: [Device, number][] = []
  const closed: Device[] = []
  const refused: [Device, string][] = []
  const abandon = new AbortController()
  let found: string | null | undefined
  void search({
    names,
    patience: 6000,
    stagger: 800,
    later: clock.later,
    refused: (name, why) => refused.push([name, why]),
    abandon: abandon.signal,
    start: (name, patience, given) =>
      new Promise(resolve => {
        began.push([name, clock.now()])
        const is = how[name] ?? { fails: 0 }
        const player = { send: () => {}, close: async () => void closed.push(name) }
        const opened = { ok: true, player, depthMs: 100, device: null, devices: [] } as const
        const voice = voiceOf(() => {})
        given.addEventListener('abort', () => resolve({ ok: false, why: 'given up' }))
        if (is !== 'hangs' && 'opens' in is) clock.later(is.opens, () => resolve({ ...opened, voice }))
        if (is !== 'hangs' && 'fails' in is) clock.later(is.fails, () => resolve({ ok: false, why: 'no' }))
        clock.later(patience, () => resolve({ ok: false, why: 'did not answer' }))
      }),
  }).then(f => {
    found = f && `${f.name} at ${clock.now()}`
  })
  /** In small steps: answers pass through promises. */
  const pass = async (ms: number): Promise<void> => {
    for (let t = 0; t < ms; t += 10) {
      clock.pass(10)
      await new Promise(r => setImmediate(r))
    }
  }
  return { pass, began, closed, refused, abandon, found: () => found }
}

describe('the search for an output', () => {
  test('takes the first that opens, and tries no other meanwhile', async () => {
    const s = await setUp({ naudiodon: { opens: 500 } })
    await s.pass(1000)
    expect(s.found()).toBe('naudiodon at 500')
    expect(s.began).toEqual([['naudiodon', 0]])
  })

  test('goes on at once where one fails', async () => {
    const s = await setUp({ naudiodon: { fails: 50 }, 'audio-io': { fails: 50 }, pacat: { opens: 300 } })
    await s.pass(1000)
    expect(s.found()).toBe('pacat at 400')
    expect(s.refused.map(([name]) => name)).toEqual(['naudiodon', 'audio-io'])
  })

  test('one that hangs costs a moment: the next is tried beside it, and takes its place', async () => {
    const s = await setUp({ naudiodon: 'hangs', 'audio-io': { opens: 200 } })
    await s.pass(2000)
    expect(s.found()).toBe('audio-io at 1000')
    expect(s.closed).toEqual([])
  })

  test('on a very busy computer all are waited for: the first that answers plays', async () => {
    const slow = { opens: 5000 }
    const s = await setUp({ naudiodon: slow, 'audio-io': slow, pacat: slow, aplay: slow, speaker: slow })
    await s.pass(4900)
    expect(s.found()).toBeUndefined()
    expect(s.began.map(([, at]) => at)).toEqual([0, 800, 1600, 2400, 3200])
    await s.pass(500)
    expect(s.found()).toBe('naudiodon at 5000')
  })

  test('ends with nothing when all have failed', async () => {
    const s = await setUp({ naudiodon: 'hangs' })
    await s.pass(5900)
    expect(s.found()).toBeUndefined()
    await s.pass(200)
    expect(s.found()).toBeNull()
    expect(s.refused).toHaveLength(5)
  })

  test('is given up at once, with all that was being opened', async () => {
    const s = await setUp({ naudiodon: 'hangs', 'audio-io': 'hangs' })
    await s.pass(1000)
    s.abandon.abort()
    await s.pass(10)
    expect(s.found()).toBeNull()
    expect(s.began).toHaveLength(2)
  })
})

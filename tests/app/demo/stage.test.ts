import { expect, test } from 'vitest'
import { virtualTime } from '../../../src/app/demo/stage.ts'

const REAL = { wall: () => Date.UTC(2031, 2, 15, 12), offset: () => 60 }
const nothing = async (): Promise<void> => {}

test('timers run in order of their time, those of one time in the order in which they were set', async () => {
  const time = virtualTime(REAL)
  const said: string[] = []
  const say = (word: string) => () => void said.push(`${word} ${time.now()}`)
  await time.run(
    nothing,
    new Promise<void>(end => {
      time.later(20, say('third'))
      time.later(10, say('first'))
      time.later(10, () => {
        say('second')()
        time.later(10, say('fourth'))
      })
      time.later(15, say('never'))()
      time.later(5000, end)
    }),
  )
  expect(said).toEqual(['first 10', 'second 10', 'third 20', 'fourth 20'])
  expect(time.now()).toBe(5000)
  expect(time.wall() - REAL.wall()).toBe(5000)
})

test('what is really under way settles before the next timer runs', async () => {
  const time = virtualTime(REAL)
  let writing: Promise<void> = Promise.resolve()
  let stored = false
  let seen = false
  await time.run(
    () => writing,
    new Promise<void>(end => {
      time.later(1, () => {
        writing = new Promise(done => {
          setTimeout(() => {
            stored = true
            done()
          }, 20)
        })
      })
      time.later(2, () => {
        seen = stored
        end()
      })
    }),
  )
  expect(seen).toBe(true)
})

test('waiting for ever is an error, not a standstill', async () => {
  const time = virtualTime(REAL)
  await expect(time.run(nothing, new Promise(() => {}))).rejects.toThrow('nothing left')
  const tick = (): void => void time.later(1000, tick)
  tick()
  await expect(time.run(nothing, new Promise(() => {}))).rejects.toThrow('nothing left')
})

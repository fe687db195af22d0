import fc from 'fast-check'
import { expect, it } from 'vitest'
import { midiKeys } from '../../src/terminal/midi.ts'

// Bytes as in the MIDI 1.0 Detailed Specification: B0 = controller on channel 1, 90 = note on, FE = active sensing.
const heard = (...bytes: number[]): string[] => midiKeys().feed(bytes)

it.each([
  [64, 'damper'],
  [66, 'sostenuto'],
  [67, 'soft'],
  [11, 'any other'],
])('controller %i (%s) is a press when it goes down and another key when it is lifted', cc => {
  expect(heard(0xb3, cc, 127, 0xb3, cc, 0)).toEqual([`midi-cc${cc}`, `midi-cc${cc}-low`])
})

it('half a pedal is one press: down at 64, up at 40, nothing between', () => {
  expect(heard(...[20, 70, 100, 10].flatMap(v => [0xb0, 64, v]))).toEqual([
    'midi-cc64-low',
    'midi-cc64',
    'midi-cc64-low',
  ])
  expect(heard(...[64, 63, 41, 64, 127, 40, 63].flatMap(v => [0xb0, 64, v]))).toEqual([
    'midi-cc64',
    'midi-cc64-low',
  ])
})

it('a note is a press where it begins; velocity 0 ends it', () => {
  expect(heard(0x99, 36, 100, 36, 0, 36, 1, 0x89, 36, 64)).toEqual(['midi-note36', 'midi-note36'])
})

it('running status, clock, active sensing and system messages between the bytes disturb nothing', () => {
  expect(heard(0xb0, 64, 0xfe, 127, 0xf8, 64, 0xf8, 0)).toEqual(['midi-cc64', 'midi-cc64-low'])
  expect(heard(0xf0, 1, 2, 3, 0xf7, 64, 127, 0xb0, 64, 127)).toEqual(['midi-cc64'])
  expect(heard(0xc0, 5, 0xe0, 0, 64, 0xd0, 9, 0xa0, 60, 5)).toEqual([])
  expect(heard(0xb0, 123, 127)).toEqual([])
})

it('however the bytes are cut, the presses are the same, and of one controller up and down alternate', () => {
  const bytes = fc.array(
    fc.oneof(fc.constantFrom(0xb0, 64, 127, 0, 0x90, 0xfe), fc.integer({ min: 0, max: 255 })),
    {
      maxLength: 200,
      size: 'max',
    },
  )
  fc.assert(
    fc.property(bytes, fc.integer({ min: 1, max: 5 }), (all, size) => {
      const port = midiKeys()
      const cut: string[] = []
      for (let i = 0; i < all.length; i += size) cut.push(...port.feed(all.slice(i, i + size)))
      const whole = heard(...all)
      expect(cut).toEqual(whole)
      for (const id of whole) expect(id).toMatch(/^midi-(cc\d+(-low)?|note\d+)$/)
    }),
  )
})

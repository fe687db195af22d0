import { describe, expect, test } from 'vitest'
import { programOf } from '../../src/cli/run.ts'
import { ALL_CAUTIONS } from '../../src/screens/words.ts'
import { player } from './typed.ts'

const commands = programOf(async () => {}).commands

/** What `help` prints of a command. */
const helpOf = (name: string): string => {
  let said = ''
  const command = programOf(async () => {}).commands.find(c => c.name() === name)
  command?.configureOutput({ writeOut: text => (said += text) }).outputHelp()
  return said
}

describe('the help of what sounds ends with the cautions', () => {
  test.each(['practice', 'click', 'read', 'warmup', 'demo'])('%s', name => {
    for (const caution of ALL_CAUTIONS) expect(helpOf(name)).toContain(caution)
  })

  test('and of what is silent it does not', () => {
    expect(helpOf('today')).not.toContain(ALL_CAUTIONS[0])
  })
})

test('every command and option says what it does in words of its own, without a full stop', () => {
  for (const c of commands)
    for (const says of [c.description(), ...c.options.map(o => o.description)]) {
      expect(says.length, c.name()).toBeGreaterThan(3)
      expect(says, c.name()).not.toMatch(/[^.]\.$/)
    }
})

test('a word under which commands stand, typed alone, shows them; an option without its value says what it needs', async () => {
  const { type } = player()
  expect(await type('piece')).toMatchObject({ status: 2, out: expect.stringContaining('split') })
  expect((await type('practice', '--goal')).err).toBe(
    'gradino: --goal needs its tempo. gradino --help shows what to type.\n',
  )
})

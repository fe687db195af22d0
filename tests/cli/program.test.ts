import { describe, expect, test } from 'vitest'
import { programOf } from '../../src/cli/program.ts'
import { ALL_CAUTIONS } from '../../src/screens/words.ts'

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

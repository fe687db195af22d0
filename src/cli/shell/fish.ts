import { everyCommand, lastWord, namesFile, type Told } from './told.ts'

const quoted = (text: string): string => `'${text.replaceAll('\\', '\\\\').replaceAll("'", "\\'")}'`

/** Where a command is being typed: all words of its path are there, and none of those under it. */
const typing = (t: Told): string => {
  const seen = t.path.map(p => `__fish_seen_subcommand_from ${p}`)
  const none =
    t.under.length > 0 ? [`not __fish_seen_subcommand_from ${t.under.map(lastWord).join(' ')}`] : []
  return [...seen, ...none].join('; and ')
}

export const fishCompletion = (told: Told): string => {
  const line = (when: string, rest: string): string =>
    `complete -c gradino${when === '' ? '' : ` -n ${quoted(when)}`} ${rest}`
  const lines = everyCommand(told).flatMap(t => [
    ...t.under.map(u => line(typing(t), `-f -a ${lastWord(u)} -d ${quoted(u.says)}`)),
    ...t.options.map(o => {
      const names = o.spelled.map(s => (s.startsWith('--') ? `-l ${s.slice(2)}` : `-s ${s.slice(1)}`))
      const value = o.value === null ? '' : namesFile(o.value) ? ' -r -F' : ' -x'
      return line(t.path.length === 0 ? '' : typing(t), `${names.join(' ')}${value} -d ${quoted(o.says)}`)
    }),
  ])
  return `# Completion of gradino for fish. Use it now: gradino completion fish | source\n${lines.join('\n')}\n`
}

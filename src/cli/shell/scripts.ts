import { everyCommand, lastWord, namesFile, type Told } from './told.ts'

/** A path inside the scripts: "" for the program, "/piece/add". */
const pathWord = (told: Told): string => told.path.map(p => `/${p}`).join('')

const spelled = (told: Told, wanted: (value: string | null) => boolean): string =>
  [
    ...new Set(
      everyCommand(told).flatMap(t => t.options.filter(o => wanted(o.value)).flatMap(o => o.spelled)),
    ),
  ].join('|')

/** Cases of a shell: options whose next word is a file, and those with another value. */
const valueCases = (told: Told): { readonly files: string; readonly others: string } => ({
  files: spelled(told, namesFile),
  others: spelled(told, v => v !== null && !namesFile(v)),
})

/** Every command that is typed after another word, as a pattern of a shell. */
const commandCases = (told: Told): string =>
  everyCommand(told)
    .slice(1)
    .map(t => `${pathWord(t)}`)
    .join('|')

export const bashCompletion = (told: Told): string => {
  const { files, others } = valueCases(told)
  const words = (t: Told): string =>
    [...t.under.map(lastWord), ...t.options.flatMap(o => o.spelled)].join(' ')
  return `# Completion of gradino for bash. Use it now: source <(gradino completion bash)
_gradino() {
  local word=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD-1]} at='' words='' w
  for w in "\${COMP_WORDS[@]:1:COMP_CWORD-1}"; do
    case "$at/$w" in
      ${commandCases(told)}) at="$at/$w" ;;
    esac
  done
  case "$before" in
    ${files})
      compopt -o filenames 2>/dev/null
      while IFS= read -r w; do COMPREPLY+=("$w"); done < <(compgen -f -- "$word")
      return ;;
    ${others}) return ;;
  esac
  case "$at" in
${everyCommand(told)
  .map(t => `    '${pathWord(t)}') words='${words(t)}' ;;`)
  .join('\n')}
  esac
  COMPREPLY=($(compgen -W "$words" -- "$word"))
  if [ \${#COMPREPLY[@]} -eq 0 ] && [ "\${word#-}" = "$word" ]; then
    compopt -o filenames 2>/dev/null
    while IFS= read -r w; do COMPREPLY+=("$w"); done < <(compgen -f -- "$word")
  fi
}
complete -F _gradino gradino
`
}

/** In single quotes; a colon ends the word that is described. */
const described = (word: string, says: string): string =>
  `'${`${word.replaceAll(':', '\\:')}:${says}`.replaceAll("'", "'\\''")}'`

export const zshCompletion = (told: Told): string => {
  const { files, others } = valueCases(told)
  return `#compdef gradino
# Completion of gradino for zsh. Use it now: source <(gradino completion zsh)
_gradino() {
  local at='' w
  local -a commands options
  for w in "\${(@)words[2,CURRENT-1]}"; do
    case "$at/$w" in
      ${commandCases(told)}) at="$at/$w" ;;
    esac
  done
  case "\${words[CURRENT-1]}" in
    ${files}) _files; return ;;
    ${others}) return ;;
  esac
  case "$at" in
${everyCommand(told)
  .map(
    t => `    '${pathWord(t)}')
      commands=(${t.under.map(u => described(lastWord(u), u.says)).join(' ')})
      options=(${t.options.flatMap(o => o.spelled.map(s => described(s, o.says))).join(' ')}) ;;`,
  )
  .join('\n')}
  esac
  (( \${#commands} )) && _describe -t commands command commands
  [[ "\${words[CURRENT]}" == -* ]] && _describe -o -t options option options
  (( \${#commands} )) || [[ "\${words[CURRENT]}" == -* ]] || _files
}
if [ "$funcstack[1]" = _gradino ]; then _gradino "$@"; else compdef _gradino gradino; fi
`
}

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

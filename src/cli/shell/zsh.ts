import { commandCases, pathWord, valueCases } from './bash.ts'
import { everyCommand, lastWord, type Told } from './told.ts'

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

import { everyCommand, lastWord, namesFile, type Told } from './told.ts'

/** A path inside the scripts: "" for the program, "/piece/add". */
export const pathWord = (told: Told): string => told.path.map(p => `/${p}`).join('')

const spelled = (told: Told, wanted: (value: string | null) => boolean): string =>
  [
    ...new Set(
      everyCommand(told).flatMap(t => t.options.filter(o => wanted(o.value)).flatMap(o => o.spelled)),
    ),
  ].join('|')

/** Cases of a shell: options whose next word is a file, and those with another value. */
export const valueCases = (told: Told): { readonly files: string; readonly others: string } => ({
  files: spelled(told, namesFile),
  others: spelled(told, v => v !== null && !namesFile(v)),
})

/** Every command that is typed after another word, as a pattern of a shell. */
export const commandCases = (told: Told): string =>
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

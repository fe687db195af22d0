const listed = (all: readonly string[]): string =>
  all.length < 2 ? all.join('') : `${all.slice(0, -1).join(', ')} and ${all.at(-1)}`

/** "The run (goal, meter) is no longer the music that was practiced" */
export const otherMusicText = (moved: readonly { name: string; what: readonly string[] }[]): string =>
  `${listed(moved.map(m => `${m.name} (${m.what.join(', ')})`))} ${moved.length === 1 ? 'is' : 'are'} no longer the music that was practiced`

/** What became of the history of music that changed. */
export const historyText = (names: readonly string[], stays: boolean): string =>
  stays
    ? `The history stays: ${listed(names)}.`
    : `Begins anew: ${listed(names)} stays to be read (gradino piece show).`

export const trueTempoText = (title: string, ratio: number): string =>
  `${title}, as the conductor takes it: the goals times ${Math.round(ratio * 1000) / 1000}. What was practiced stays.`

/** `said` of a breath that is too long now; `fitted` = it was not before. */
export const tooLongText = (said: string, fitted: boolean, advice: string): string =>
  `${said}. ${fitted ? 'The planned breaths no longer fit' : 'The planned breaths did not fit before either'}: ${advice}.`

export const QUICK_TITLE = 'A quick ladder: to which tempo?'
export const MEASURES_HINT = 'First and last as printed, like 41-44; or how many there are, like 4.'
export const titleHint = (hint: string | undefined): string =>
  `${hint} A title you already have gets one more passage.`

export const NOT_STORED = 'What you typed is not stored yet.'

/** `moved` = what is no longer the music that was practiced. */
export const historyQuestion = (moved: string): string => `${moved}. What becomes of its history?`

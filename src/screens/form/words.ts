export const QUICK_TITLE = 'A quick ladder: to which tempo?'
export const MEASURES_HINT = 'First and last as printed, like 41-44; or how many there are, like 4.'
export const titleHint = (hint: string | undefined): string =>
  `${hint} A title you already have gets one more passage.`

export const NOT_STORED = 'What you typed is not stored yet.'

/** "goal tempo, 3 of 14. As printed ..." */
export const fieldLine = (label: string, at: number, count: number, hint: string): string =>
  `${label}, ${at + 1} of ${count}. ${hint}`
export const FORM_KEYS = 'Enter: next line. Up, down: another line. Ctrl+S: store it. Escape: leave.'
export const NEW_KEYS = 'Enter: next line; the last one stores. Up, down: another line. Escape: back.'
export const QUESTION_KEYS = 'Up, down: choose. Enter: this one. Escape: back to the form.'

/** `moved` = what is no longer the music that was practiced. */
export const historyQuestion = (moved: string): string => `${moved}. What becomes of its history?`

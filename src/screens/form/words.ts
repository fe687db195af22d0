export const QUICK_TITLE = 'A quick ladder: to which tempo?'
export const MEASURES_HINT = 'First and last as printed, like 41-44; or how many there are, like 4.'
export const titleHint = (hint: string | undefined): string =>
  `${hint} A title you already have gets one more passage.`

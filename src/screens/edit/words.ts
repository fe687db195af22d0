export const NOT_STORED = 'What you typed is not stored yet.'

/** `moved` = what is no longer the music that was practiced. */
export const historyQuestion = (moved: string): string => `${moved}. What becomes of its history?`

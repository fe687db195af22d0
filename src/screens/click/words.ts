/** What is said first where the click is lines. */
export const opening = (pedals: string): string =>
  `The click. ${pedals}; t taps a tempo, f leaves, ? is help.`

export const GOING = { true: 'Started.', false: 'Stopped.' } as const

/** When a pedal does what, for the help. */
export const WHEN = { false: 'while nothing sounds', true: 'while it sounds' } as const

/** A change while it sounds. */
export const turnsTo = (click: string): string => `From the next bar line: ${click}`

export const SLEPT = 'The computer slept; a press starts the click again.'

/** What stays in the terminal when the player has left. */
export const closingText = (tempo: string, meter: string): string => `The click: ${tempo}, ${meter}.`

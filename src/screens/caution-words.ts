/** The usual cautions, said once before the first screen that sounds, and then in the help. */
export const CAUTIONS: readonly string[] = [
  'Rest five minutes in each half hour.',
  'Stop when it hurts, and see a physician or therapist who treats musicians.',
  'Keep the click quiet in headphones.',
]
/** The same with what to do about the ears, where there is room for a line more. */
export const ALL_CAUTIONS: readonly string[] = [
  ...CAUTIONS,
  'If your ears ring or sound dull, see a physician or audiologist.',
]

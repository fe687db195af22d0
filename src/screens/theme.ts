/**
 * Colors by meaning. Each has a relative luminance near 0.18, which stands at 4.5:1 or better against black and against
 * white (WCAG 2.2, contrast ratio), so one set serves dark and light terminals. Nothing is said by color alone.
 */
export const theme = {
  good: '#0e8831',
  bad: '#d63d1c',
  mark: '#7b5ee1',
  soft: '#757575',
} as const

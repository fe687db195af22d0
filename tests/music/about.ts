/** What the sentence about one thing that was typed begins with or holds, as a pattern: `breath 2, at` in a list of breaths. */
export const about = (field: string): string => {
  const [where, thing] = field.split(/, (?=[^,]*$)/)
  if (thing !== undefined) return `In ${where}, ${thing} (?:"|is missing\\.)`
  return /\d$/.test(field)
    ? `In ${field}, `
    : `(?:".*" doesn't work for (?:the )?${field}\\.|(?:The )?${field} is missing\\.|".*" is past\\.)`
}

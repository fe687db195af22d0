export const whichPart = (parts: number, choice: string, movements: string): string =>
  `This score has ${parts} parts. Say which is yours: --part with ${choice}${movements}.`

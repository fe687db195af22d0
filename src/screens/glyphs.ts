/**
 * Large digits, seven rows high, drawn for this program like engraved numbers: one thick stroke, one thin.
 * Readable from two meters when the window is enlarged to 80x24.
 */
const DIGITS: Readonly<Record<string, readonly string[]>> = {
  '0': [' ▄████▄ ', '███  ▀█▌', '███   █▌', '███   █▌', '███   █▌', '███  ▄█▌', ' ▀████▀ '],
  '1': ['   ▄██  ', ' ▄████  ', '   ███  ', '   ███  ', '   ███  ', '   ███  ', ' ▄▄███▄▄'],
  '2': [' ▄████▄ ', '█▀  ▀███', '     ███', '   ▄██▀ ', ' ▄█▀    ', '██▄▄▄▄▄█', '████████'],
  '3': ['▄█████▄ ', '▀   ▀███', '    ▄██▀', '  ████▄ ', '    ▀███', '▄   ▄███', '▀█████▀ '],
  '4': ['    ▄███', '  ▄█▀███', '▄█▀  ███', '█▌   ███', '████████', '     ███', '     ███'],
  '5': ['███████▌', '█▌      ', '█████▄▄ ', '    ▀███', '     ███', '▄   ▄███', '▀█████▀ '],
  '6': ['  ▄███▄ ', '▄██▀  ▀ ', '███     ', '███▀▀██▄', '███   █▌', '███  ▄█▌', ' ▀████▀ '],
  '7': ['████████', '█▀   ▄█▀', '    ▄█▀ ', '   ▄██  ', '  ▄██▀  ', '  ███   ', '  ███   '],
  '8': [' ▄████▄ ', '██▌  ▐██', '▀██▄▄██▀', ' ▄████▄ ', '██▀  ▀██', '██▄  ▄██', ' ▀████▀ '],
  '9': [' ▄████▄ ', '▐█  ▀███', '▐█   ███', ' ▀██▄███', '     ███', '▄   ▄██▀', ' ▀███▀  '],
  '.': ['  ', '  ', '  ', '  ', '  ', '  ', '██'],
}

export const GLYPH_ROWS = 7

/** A number ("112", "63.5") as seven rows of text; anything that is not a digit or a point is left out. */
export const bigNumber = (text: string): readonly string[] =>
  Array.from({ length: GLYPH_ROWS }, (_, row) =>
    [...text]
      .map(c => DIGITS[c]?.[row])
      .filter(g => g !== undefined)
      .join('  '),
  )

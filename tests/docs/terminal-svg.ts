import type { Terminal } from '@xterm/headless'

/** One place of a terminal: a character and its look. */
type Cell = { readonly char: string; readonly look: string }
export type Cells = readonly (readonly Cell[])[]

/** Width and height of one cell, and the size of its letters, in pixels. */
const W = 9
const H = 19
const LETTERS = 15
const MARGIN = 14
const GROUND = '#11161b'
const INK = '#d5dbe1'

const hex = (n: number): string => `#${n.toString(16).padStart(6, '0')}`

/** A color of xterm's 256: a cube of six levels a channel, then 24 grays. */
const ofCube = (n: number): string => {
  const level = (k: number): number => [0, 95, 135, 175, 215, 255][Math.floor((n - 16) / k) % 6] ?? 0
  const gray = 8 + 10 * (n - 232)
  const [r, g, b] = n >= 232 ? [gray, gray, gray] : [level(36), level(6), level(1)]
  return hex((r << 16) + (g << 8) + b)
}

/** What stands on a terminal now. */
export const cellsOf = (t: Terminal): Cells => {
  const buffer = t.buffer.active
  return Array.from({ length: t.rows }, (_, y) => {
    const line = buffer.getLine(buffer.baseY + y)
    return Array.from({ length: t.cols }, (_, x): Cell => {
      const c = line?.getCell(x)
      if (!c) return { char: ' ', look: '' }
      const color = c.isFgRGB() ? hex(c.getFgColor()) : c.isFgPalette() ? ofCube(c.getFgColor()) : ''
      const look = [color, c.isBold() ? 'b' : '', c.isDim() ? 'd' : '', c.isInverse() ? 'i' : ''].join('|')
      return { char: c.getChars() || ' ', look }
    })
  })
}

/** Left, top, right, bottom in eighths of a cell: block characters are drawn, so that no font leaves gaps between them. */
const BLOCKS: Readonly<Record<string, readonly (readonly [number, number, number, number])[]>> = {
  '█': [[0, 0, 8, 8]],
  '▀': [[0, 0, 8, 4]],
  '▄': [[0, 4, 8, 8]],
  '▌': [[0, 0, 4, 8]],
  '▐': [[4, 0, 8, 8]],
  '▘': [[0, 0, 4, 4]],
  '▝': [[4, 0, 8, 4]],
  '▖': [[0, 4, 4, 8]],
  '▗': [[4, 4, 8, 8]],
  '▙': [
    [0, 0, 4, 8],
    [4, 4, 8, 8],
  ],
  '▟': [
    [4, 0, 8, 8],
    [0, 4, 4, 8],
  ],
  '▛': [
    [0, 0, 4, 8],
    [4, 0, 8, 4],
  ],
  '▜': [
    [4, 0, 8, 8],
    [0, 0, 4, 4],
  ],
  '▚': [
    [0, 0, 4, 4],
    [4, 4, 8, 8],
  ],
  '▞': [
    [4, 0, 8, 4],
    [0, 4, 4, 8],
  ],
  ...Object.fromEntries([...'▁▂▃▄▅▆▇'].map((c, i) => [c, [[0, 7 - i, 8, 8]]] as const)),
}

const escaped = (s: string): string => s.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;')
const px = (n: number): string => String(Math.round(n * 100) / 100)

const lookOf = (look: string): string => {
  const [color = '', bold, dim] = look.split('|')
  return `${color ? ` fill="${color}"` : ''}${bold ? ' font-weight="700"' : ''}${dim ? ' opacity=".6"' : ''}`
}

/** One row as it is drawn, its top at 0. */
const rowOf = (row: readonly Cell[]): string => {
  const out: string[] = []
  for (let x = 0; x < row.length; ) {
    const { char, look } = row[x] as Cell
    const turned = look.endsWith('|i')
    if (char === ' ' && !turned) {
      x++
      continue
    }
    const drawn = (c: Cell): boolean => c.char in BLOCKS
    let end = x
    // Two spaces end a run: what stands apart is placed by itself.
    while (
      end < row.length &&
      row[end]?.look === look &&
      drawn(row[end] as Cell) === drawn(row[x] as Cell) &&
      (turned || row[end]?.char !== ' ' || (row[end + 1]?.char !== ' ' && row[end + 1]?.look === look))
    )
      end++
    const run = row.slice(x, Math.max(end, x + 1))
    const left = x * W
    if (turned) out.push(`<path fill="${INK}" d="M${left} 0h${run.length * W}v${H}H${left}z"/>`)
    if (drawn(row[x] as Cell)) {
      const path = run.flatMap(({ char: c }, i) =>
        (BLOCKS[c] ?? []).map(
          ([l, t, r, b]) =>
            `M${px(left + (i + l / 8) * W)} ${px((t / 8) * H)}h${px(((r - l) / 8) * W)}v${px(((b - t) / 8) * H)}h${px((-(r - l) / 8) * W)}z`,
        ),
      )
      out.push(`<path${lookOf(look)} d="${path.join('')}"/>`)
    } else {
      const text = run.map(c => c.char).join('')
      const fill = turned ? ` fill="${GROUND}"` : ''
      out.push(
        `<text x="${left}" y="14" textLength="${run.length * W}"${fill || lookOf(look)}>${escaped(text)}</text>`,
      )
    }
    x += run.length
  }
  return out.join('')
}

/** Height of what stands below a moving picture. */
const BELOW = 58
/** Two pedals, the right one pressed or not, and what happens, in words. */
const belowOf = (said: string, down: boolean): string => {
  const pedal = (x: number, pressed: boolean): string =>
    `<rect x="${x}" y="${pressed ? 22 : 18}" width="34" height="${pressed ? 22 : 26}" rx="5" fill="${pressed ? '#2fb35c' : '#3a444e'}"/>`
  return `${pedal(0, false)}${pedal(42, down)}<text x="96" y="38" font-size="19">${escaped(said)}</text>`
}

/** What is drawn from when to when, in seconds. */
type Shown = { readonly what: string; readonly spans: [from: number, to: number][] }

const page = (o: {
  rows: number
  cols: number
  below?: number
  title: string
  style: string
  inside: string
}): string => {
  const width = o.cols * W + 2 * MARGIN
  const height = o.rows * H + 2 * MARGIN + (o.below ?? 0)
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-label="${escaped(o.title).replace(/"/g, '&quot;')}">`,
    `<style>text{white-space:pre}${o.style}</style>`,
    `<rect width="${width}" height="${height}" rx="8" fill="${GROUND}"/>`,
    `<g transform="translate(${MARGIN} ${MARGIN})" fill="${INK}" font-size="${LETTERS}" font-family="ui-monospace,Menlo,Consolas,DejaVu Sans Mono,monospace">`,
    o.inside,
    '</g></svg>\n',
  ].join('\n')
}

/**
 * A picture that moves: what a terminal shows at each of some moments, over and over. `step` = seconds from one to the
 * next. `said` stands below it, and whether the foot is down. Where motion is not wanted it stands still at moment `rest`.
 */
export const moving = (
  frames: readonly { readonly cells: Cells; readonly said: string; readonly down: boolean }[],
  step: number,
  rest: number,
  title: string,
): string => {
  const all = frames.length * step
  const rows = frames[0]?.cells.length ?? 0
  const inside: string[] = []
  const rules = new Map<string, string>()
  for (let y = 0; y <= rows; y++) {
    const drawn = frames.map(f => (y === rows ? belowOf(f.said, f.down) : rowOf(f.cells[y] ?? [])))
    const shown = new Map<string, Shown>()
    for (const [i, what] of drawn.entries()) {
      const here = shown.get(what) ?? { what, spans: [] }
      shown.set(what, here)
      const last = here.spans.at(-1)
      if (last && Math.abs(last[1] - i * step) < 1e-9) last[1] = (i + 1) * step
      else here.spans.push([i * step, (i + 1) * step])
    }
    const resting = drawn[rest]
    for (const { what, spans } of shown.values()) {
      if (what === '') continue
      const at = `transform="translate(0 ${y * H})"`
      if (shown.size === 1) {
        inside.push(`<g ${at}>${what}</g>`)
        continue
      }
      const stops = spans.flatMap(([from, to]) => [
        `${px((100 * from) / all)}%{visibility:visible}`,
        ...(to < all - 1e-9 ? [`${px((100 * to) / all)}%{visibility:hidden}`] : []),
      ])
      const times = `${(spans[0]?.[0] ?? 0) > 0 ? '0%{visibility:hidden}' : ''}${stops.join('')}`
      const name = rules.get(times) ?? `k${rules.size}`
      rules.set(times, name)
      inside.push(
        `<g class="${what === resting ? 'r ' : ''}m" style="animation-name:${name}" ${at}>${what}</g>`,
      )
    }
  }
  const style = [
    `.m{visibility:hidden;animation-duration:${px(all)}s;animation-timing-function:step-end;animation-iteration-count:infinite}`,
    '.r{visibility:visible}',
    '@media(prefers-reduced-motion:reduce){.m{animation:none!important}}',
    ...[...rules].map(([times, name]) => `@keyframes ${name}{${times}}`),
  ]
  return page({
    rows,
    cols: frames[0]?.cells[0]?.length ?? 0,
    below: BELOW,
    title,
    style: style.join('\n'),
    inside: inside.join('\n'),
  })
}

/** A picture of what a terminal shows. */
export const still = (cells: Cells, title: string): string =>
  page({
    rows: cells.length,
    cols: cells[0]?.length ?? 0,
    title,
    style: '',
    inside: cells
      .map(rowOf)
      .flatMap((row, y) => (row === '' ? [] : [`<g transform="translate(0 ${y * H})">${row}</g>`]))
      .join('\n'),
  })

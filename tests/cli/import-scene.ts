import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { backward, direction, head, mark, note, scoreText, time, words } from '../score/scores.ts'
import { player } from './typed.ts'

const breath = '<notations><articulations><breath-mark/></articulations></notations>'
const caesura = '<notations><articulations><caesura/></articulations></notations>'
const fermata = '<notations><fermata/></notations>'

/** Eight measures with everything that is kept: a pick-up, a change of meter, a ritardando, breaths and holds. */
export const flute = [
  { attrs: 'number="0" implicit="yes"', inside: `${head('3', 4)}${mark('quarter', '96')}${note(4)}` },
  { attrs: 'number="1"', inside: note(8) + note(4, breath) },
  { attrs: 'number="2"', inside: `${direction('<rehearsal>A</rehearsal>')}${note(12, '', 'Bb4')}` },
  { attrs: 'number="3"', inside: words('rit.') + note(12, caesura) },
  {
    attrs: 'number="4"',
    inside: `<attributes>${time('3+2', 8)}</attributes>${mark('quarter', '72')}${note(10)}`,
  },
  { attrs: 'number="5"', inside: note(10, '<tie type="start"/>', 'F#5') },
  { attrs: 'number="6"', inside: note(4, '<tie type="stop"/>', 'F#5') + note(6, fermata) + backward() },
]
export const oboe = flute.map((m, i) =>
  i === 0 ? m : { ...m, inside: m.inside.replaceAll('<step>C', '<step>A') },
)

/** A player with a folder of scores, one of them there already. */
export const folder = () => {
  const who = player()
  const put = (name: string, content: string | Uint8Array): string => {
    const dir = join(who.home, 'scores')
    mkdirSync(dir, { recursive: true })
    writeFileSync(join(dir, name), content)
    return join(dir, name)
  }
  const pieces = (): Readonly<Record<string, string>> => {
    const dir = join(who.home, 'data', 'pieces')
    const names = existsSync(dir) ? readdirSync(dir).filter(n => n.endsWith('.json')) : []
    return Object.fromEntries(names.map(n => [n, readFileSync(join(dir, n), 'utf8')]))
  }
  return { ...who, put, pieces, weir: put('weir.musicxml', scoreText(flute, oboe)) }
}
export const WEIR = 'Weir Street Overture'
export const P1 = ['--part', 'flute 1']

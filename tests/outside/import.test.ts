import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { strFromU8, unzipSync } from 'fflate'
import { describe, expect, test } from 'vitest'
import { folder } from '../cli/import-scene.ts'

/*
 * Source: scores by others, see scores/README.md, and the W3C MusicXML 4.0 pages named beside a check. What is counted here is
 * the raw XML.
 */
const SCORES = new URL('./scores/', import.meta.url)
const listed = (dir: string, ending: RegExp): readonly string[] => {
  const at = new URL(`${dir}/`, SCORES)
  return existsSync(at) ? readdirSync(at).filter(n => ending.test(n)) : []
}
const openscore = listed('openscore', /\.mxl$/)
const suite = listed('musicxml-suite', /\.(xml|musicxml|mxl)$/)
const at = (dir: string, name: string): string => new URL(`${dir}/${name}`, SCORES).pathname

type Shown = {
  readonly numbers: readonly string[]
  readonly meter: string
  readonly changes: readonly { readonly at: string; readonly meter: string }[]
  readonly breaths: readonly { readonly kind: string }[]
}

describe('outer parts of every score of OpenScore', () => {
  test.each(openscore)(
    '%s is imported, and its measures, meters, tempos and breaths are those of its XML',
    async name => {
      const files = unzipSync(readFileSync(at('openscore', name)))
      const inner =
        Object.keys(files).find(n => /\.(xml|musicxml)$/.test(n) && !n.startsWith('META-INF')) ?? ''
      const parts = [
        ...strFromU8(files[inner] ?? new Uint8Array()).matchAll(/<part id="(.*?)">[\s\S]*?<\/part>/g),
      ]
      expect(parts.length).toBeGreaterThan(1)
      // Of songs the first and the last, of quartets, whose parts are alike, the last: that each is read as it stands is
      // asked of the reader.
      for (const part of name.startsWith('sq') ? [parts.at(-1)] : [parts[0], parts.at(-1)]) {
        const [xml = '', id] = part ?? []
        const { type, json } = folder()
        const said = await type(
          'piece',
          'import',
          at('openscore', name),
          '--part',
          id ?? '',
          '--title',
          'Weir',
          '--whole',
        )
        expect(said).toMatchObject({ status: 0, err: '' })
        const { passages } = await json('piece', 'show', 'Weir')
        // a movement is a passage of its own; all in a row they are the whole part
        const all: readonly string[] = passages.flatMap((p: Shown) => p.numbers)
        // what has no number of its own: half of a divided measure, or a first ending
        const unnumbered = (n: string | undefined) => /^X\d+$/.test(n ?? '')
        const numbers = all.filter(n => !unnumbered(n))
        const measures = [...xml.matchAll(/<measure ([^>]*)>([\s\S]*?)<\/measure>/g)]
        // a pick-up stands at the beginning
        const own = measures.filter(([, attrs], i) => i === 0 || !attrs?.includes('implicit="yes"'))
        expect(numbers).toEqual(own.map(([, attrs]) => /number="(.*?)"/.exec(attrs ?? '')?.[1]))
        const meters = own.map(([, , inside]) => {
          const [, beats, unit] = /<beats>(.*?)<\/beats>\s*<beat-type>(.*?)</.exec(inside ?? '') ?? []
          return beats ? `${beats}/${unit}` : ''
        })
        let meter = meters[0] ?? ''
        const changes = meters.flatMap((m, i) => {
          if (m === '' || m === meter) return []
          meter = m
          return [`${numbers[i]} ${m}`]
        })
        let running = ''
        const read = passages.flatMap((p: Shown) =>
          [{ at: p.numbers[0], meter: p.meter }, ...p.changes].flatMap(c => {
            if (unnumbered(c.at)) return []
            const same = c.meter === running
            running = c.meter
            return same ? [] : [`${c.at} ${c.meter}`]
          }),
        )
        expect(read).toEqual([`${numbers[0]} ${meters[0]}`, ...changes])
        const breaths = [...xml.matchAll(/<breath-mark/g)].length
        const kept = passages.flatMap((p: Shown) => p.breaths.filter(b => b.kind === 'breath')).length
        // several voices may breathe together, and after the last note nobody does
        const last = /<breath-mark(?![\s\S]*<note[ >])/.test(xml) ? 1 : 0
        if (!xml.includes('<backup>')) expect(kept).toBe(breaths - last)
        else expect(kept).toBeLessThanOrEqual(breaths)
      }
    },
  )

  test('lc6010628: the tempo map turns twelve times between dotted quarter 80 and 72', async () => {
    const { type, json } = folder()
    await type('piece', 'import', at('openscore', 'lc6010628.mxl'), '--part', 'P1', '--title', 'Weir')
    const { sure, passages } = await json('piece', 'show', 'Weir')
    const marks = passages[0].tempos.map((t: { tempo: string }) => t.tempo)
    expect([sure, passages[0].goal]).toEqual(['printed', 'dotted-quarter=80'])
    expect(new Set(marks)).toEqual(new Set(['dotted-quarter=80', 'dotted-quarter=72']))
  })
})

describe('every file of the MusicXML test suite', () => {
  test.each(suite)('%s is imported, or refused in one sentence', async name => {
    const { type, pieces } = folder()
    const said = await type(
      'piece',
      'import',
      at('musicxml-suite', name),
      '--part',
      'P1',
      '--goal',
      '96',
      '--title',
      'Weir',
    )
    if (said.status === 0) expect(Object.keys(pieces()).length).toBe(1)
    else {
      expect(said.status).toBe(2)
      expect(said.err).toMatch(/^gradino: .+ (Try|Type) .+\.\n$/)
      expect(pieces()).toEqual({})
    }
  })
})

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { printable } from '../../src/music/result.ts'
import { clean, decodeXml } from '../../src/score/text.ts'
import { parseXml, type Taker } from '../../src/score/xml.ts'
import { cpuMs } from '../cpu.ts'
import { NOT_WELL_FORMED } from './not-well-formed.ts'
import { bytes, must, refusal } from './scores.ts'

const parse = (text: string) => parseXml(text, 'weir.xml')

describe('well-formed XML', () => {
  test('has 64 attributes in one element and in each, and no more', () => {
    const some = (n: number) => Array.from({ length: n }, (_, i) => `a${i}="1"`).join(' ')
    expect(parse(`<a ${some(64)}><b ${some(64)}/></a>`).ok).toBe(true)
    expect(parse(`<a><b ${some(65)}/></a>`).ok).toBe(false)
    expect(parse(`<a ${some(65)}/>`).ok).toBe(false)
  })

  test('keeps elements in order, attributes and text', () => {
    const root = must(
      parse('<a x="1" y=\'two\'><b>one</b><c/><b>&lt;two&gt; &#233;&#xE9;</b><![CDATA[<3>]]></a>'),
    )
    expect(root.name).toBe('a')
    expect(root.attrs).toEqual({ x: '1', y: 'two' })
    expect(root.children.map(c => [c.name, c.text])).toEqual([
      ['b', 'one'],
      ['c', ''],
      ['b', '<two> éé'],
    ])
    expect(root.text).toBe('<3>')
  })

  test('takes a document type with an outside address as it is and does not fetch it', () => {
    const doctype = '<!DOCTYPE a PUBLIC "-//X//DTD Y//EN" "http://x.invalid/y.dtd" [<!ELEMENT a ANY>\n]>'
    expect(must(parse(`<?xml version="1.0"?><!-- "a" -->${doctype}<a/>`)).name).toBe('a')
  })

  test('leaves names that only another file would define as they are written', () => {
    expect(must(parse('<a>caf&weir;</a>')).text).toBe('caf&weir;')
  })

  test('lets control characters through; a number that stands for one stays as it is written', () => {
    expect(must(parse('<a b="\u0007">\u0007 &#7;</a>'))).toMatchObject({
      attrs: { b: '\u0007' },
      text: '\u0007 &#7;',
    })
  })

  test('names that mean something to every object of a program are names like others', () => {
    const root = must(parse('<constructor __proto__="1" prototype="2"><__proto__/></constructor>'))
    expect([root.name, root.children[0]?.name]).toEqual(['constructor', '__proto__'])
    expect(Object.entries(root.attrs)).toEqual([
      ['__proto__', '1'],
      ['prototype', '2'],
    ])
    expect(root.children[0]?.attrs.prototype).toBeUndefined()
  })

  test('leaves out where things stand on the page', () => {
    expect(must(parse('<a default-x="1.5" relative-y="-2" number="3"/>')).attrs).toEqual({ number: '3' })
  })

  test('whoever takes an element learns where it stands', () => {
    const [one, two] = ['<b x=">"><c/></b>', '<b\n/>']
    const text = `<a>${one}${two}<d/></a>`
    const found: string[] = []
    const by: Taker = (el, parent, from, to) => {
      if (el.name === 'b') found.push(`${parent.name} ${text.slice(from, to)}`)
      return el.name === 'b'
    }
    const root = must(parseXml(text, 'weir.xml', { taken: { depth: 2, by } }))
    expect(found).toEqual([`a ${one}`, `a ${two}`])
    expect(root.children.map(c => c.name)).toEqual(['d'])
  })

  test('keeps nothing of the elements that it is told to skip, but checks them', () => {
    const skip = new Set(['lyric'])
    const root = must(parseXml('<a>1<lyric>no<b>no</b></lyric><c/></a>', 'weir.xml', { skip }))
    expect([root.text, root.children.map(c => c.name)]).toEqual(['1', ['c']])
    expect(parseXml('<a><lyric><b></lyric></a>', 'weir.xml', { skip }).ok).toBe(false)
  })
})

describe('what is refused says the line, what was there and what is accepted', () => {
  test.each<readonly [string, RegExp]>([
    ...NOT_WELL_FORMED,
    ['<a>'.repeat(65) + '</a>'.repeat(65), /"elements nested deeper" .* at most 64 deep/],
    [`<a ${Array.from({ length: 65 }, (_, i) => `x${i}="1"`).join(' ')}/>`, /at most 64 attributes/],
    [`<a>${'<b/>'.repeat(3_000_000)}</a>`, /"more tags" .* at most 3000000 tags/],
  ])('%#', (text, expected) => {
    expect(refusal(parse(text))).toMatch(expected)
  })

  test('a fault is shown with its line and a little of what stands before it, wherever it is', () => {
    const harmless = fc.constantFrom(
      'Weir',
      ' ',
      'Street and far beyond',
      '&amp;',
      '&#233;',
      '&weir;',
      '<c/>',
      '\n',
      '\r\n',
      '<!-- & -->',
      '<![CDATA[ & ]]>',
    )
    const texts = fc.array(harmless, { maxLength: 6 }).map(all => all.join(''))
    const fault = fc.constantFrom(
      { text: '& more', at: 0, said: "char '&' is not expected" },
      { text: 'and &;', at: 4, said: "char '&' is not expected" },
      { text: '</c>', at: 0, said: "Expected closing tag 'b'" },
      { text: ']]>', at: 2, said: 'the string "]]>" is disallowed in char data' },
      { text: '<c d=1/>', at: 5, said: 'unquoted attribute value' },
      { text: '<c d="1" d="2"/>', at: 15, said: 'duplicate attribute: d' },
      { text: '<c d="<"/>', at: 6, said: 'disallowed character' },
    )
    fc.assert(
      fc.property(
        fc.array(texts, { maxLength: 3 }),
        texts,
        texts,
        fault,
        (before, here, after, { text, at, said }) => {
          const head = `${before.map(t => `<b>${t}</b>`).join('\n')}<b>${here}`
          const xml = `<a>${head}${text}${after}</b></a>`
          const place = '<a>'.length + head.length + at
          const begins = xml.lastIndexOf('\n', place - 1) + 1
          const shown = xml.slice(Math.max(begins, place - 11)).split('\n')[0] ?? ''
          const line = clean(shown).slice(0, 60)
          expect(refusal(parse(xml))).toBe(
            `In weir.xml, line ${xml.slice(0, place).split('\n').length}, "${line}" doesn't work. Try well-formed XML (${said}).`,
          )
        },
      ),
      { numRuns: 200 },
    )
  })

  test('64 deep and 64 attributes are not too many', () => {
    expect(parse('<a>'.repeat(64) + '</a>'.repeat(64)).ok).toBe(true)
    expect(parse(`<a ${Array.from({ length: 64 }, (_, i) => `x${i}="1"`).join(' ')}/>`).ok).toBe(true)
  })

  test('entities of its own are refused, nested ones and files alike, and nothing is expanded', () => {
    const laughs = '<!DOCTYPE a [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;">]><a>&b;</a>'
    const file = '<!DOCTYPE a [<!ENTITY f SYSTEM "file:///etc/hostname">]><a>&f;</a>'
    for (const text of [laughs, file]) expect(refusal(parse(text))).toMatch(/"ENTITY" .* defines no entities/)
  })

  test('control characters of the file do not reach the sentence', () => {
    const said = refusal(parse('<a>\u001b[31m</b\u0007></a>'))
    expect(said).toBe(printable(said))
    expect(said).toContain('</b')
  })
})

test('time grows with the length only, whatever the file repeats', () => {
  const n = 400_000
  const hostile = [
    `<a b="1"${' '.repeat(n)}x`,
    `<a b="1"${' '.repeat(99_000)}x`,
    `<'"`.repeat(n),
    `<a ${`"'"`.repeat(n)}`,
    `<a ${'b'.repeat(99_000)}`.repeat(20),
    `<a ${'b '.repeat(n)}`,
    `<a${' b=""'.repeat(n)}`,
    `<a>${'&'.repeat(n)}</a>`,
    `<a>${']]>'.repeat(n)}</a>`,
    `<!DOCTYPE a [${']'.repeat(n)}`,
    `<!DOCTYPE a [${'] '.repeat(n)}`,
    '<'.repeat(n),
    `<a>${'<b>'.repeat(n)}`,
    `<a>${'&weir;'.repeat(n)}</a>`,
    `<a>${'&#0;'.repeat(n)}</a>`,
    `<a>${'\u0007'.repeat(n)}</a>`,
  ]
  for (const text of hostile)
    expect(
      cpuMs(() => parse(text)),
      text.slice(0, 20),
    ).toBeLessThan(3000)
})

describe('encodings', () => {
  const xml = (encoding: string) => `<?xml version="1.0" encoding="${encoding}"?><a>é – Weir</a>`
  const utf16 = (text: string, little: boolean, mark: boolean): Uint8Array => {
    const units = [...(mark ? '\ufeff' : ''), ...text].map(c => c.charCodeAt(0))
    return Uint8Array.from(units.flatMap(u => (little ? [u & 255, u >> 8] : [u >> 8, u & 255])))
  }
  const textOf = (b: Uint8Array) => must(parse(must(decodeXml(b, 'weir.xml')))).text

  test.each([
    ['UTF-8', bytes(xml('UTF-8'))],
    ['UTF-8 with a mark', bytes(`\ufeff${xml('utf-8')}`)],
    ['UTF-16 little end first', utf16(xml('UTF-16'), true, true)],
    ['UTF-16 big end first', utf16(xml('UTF-16'), false, true)],
    ['UTF-16 without a mark', utf16(xml('UTF-16'), true, false)],
    ['UTF-16 without a mark, big end first', utf16(xml('UTF-16'), false, false)],
    ['no declaration', bytes('<a>é – Weir</a>')],
    ['UTF-16 said of bytes', bytes(xml('UTF-16'))],
  ])('%s', (_, file) => {
    expect(textOf(file)).toBe('é – Weir')
  })

  test('ISO-8859-1, as old files have it', () => {
    const file = Uint8Array.from([
      ...bytes('<?xml version="1.0" encoding="ISO-8859-1"?><a>'),
      0xe9,
      ...bytes('</a>'),
    ])
    expect(textOf(file)).toBe('é')
  })

  test.each(['EBCDIC', 'constructor'])('an unknown one (%s) is refused by name', name => {
    expect(refusal(decodeXml(bytes(xml(name)), 'weir.xml'))).toContain(`encoding "${name}" doesn't work`)
  })
})

import fc from 'fast-check'
import { strFromU8, strToU8, Zip, ZipDeflate, zipSync } from 'fflate'
import { describe, expect, test } from 'vitest'
import { isZip, openZip } from '../../src/score/zip.ts'
import { must, refusal } from './scores.ts'

const read = (archive: Uint8Array, name: string) => must(openZip(archive, 'weir.mxl')).read(name)

describe('a compressed score', () => {
  test('gives back each file, stored or deflated', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 5000 }), fc.constantFrom(0, 6, 9), (content, level) => {
        const archive = zipSync(
          { 'a/score.xml': content, other: strToU8('x') },
          { level: level as 0 | 6 | 9 },
        )
        expect(isZip(archive)).toBe(true)
        expect(new Uint8Array(must(read(archive, 'a/score.xml')))).toEqual(content)
      }),
    )
  })

  test('is known by its first four bytes, whole, empty or split (APPNOTE 6.3.10, 4.3.7, 4.3.16 and 8.5.3)', () => {
    const zip = (...two: readonly number[]) => isZip(Uint8Array.of(0x50, 0x4b, ...two))
    expect([zip(3, 4), zip(5, 6), zip(7, 8)]).toEqual([true, true, true])
    expect([zip(8, 8), zip(7, 9), isZip(strToU8('<?xml')), isZip(Uint8Array.of(0x50))]).toEqual([
      false,
      false,
      false,
      false,
    ])
  })

  const archive = zipSync({ 'score.xml': strToU8('<a>'.repeat(2000)) })

  test('names the file that is not there, and looks names up in the archive only', () => {
    expect(refusal(read(archive, '../../etc/passwd'))).toMatch(
      /"\.\.\/\.\.\/etc\/passwd" .* a file that the archive holds/,
    )
  })

  // npm fflate reads the sizes in front of each file; they stand at 22 (inflated) and 18 (packed)
  const withLocal = (archive: Uint8Array, offset: number, value: number): Uint8Array => {
    const out = archive.slice()
    new DataView(out.buffer).setUint32(offset, value, true)
    return out
  }

  test('is inflated to the limit and no further, whatever it declares', () => {
    const bomb = zipSync({ 'score.xml': new Uint8Array(90_000_000) }, { level: 9 })
    expect(bomb.length).toBeLessThan(400_000)
    for (const declared of [1000, 90_000_000]) {
      const before = process.memoryUsage().arrayBuffers
      const said = refusal(read(withLocal(bomb, 22, declared), 'score.xml'))
      expect(said).toMatch(/"more than 30000000 bytes" .* at most 30000000 bytes inflated/)
      expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(80_000_000)
    }
  })

  test('is refused where it is not of the size that it declares', () => {
    expect(refusal(read(withLocal(archive, 22, 1000), 'score.xml'))).toMatch(/"damaged"/)
  })

  test('is refused when it is larger than the limit itself', () => {
    expect(refusal(openZip(new Uint8Array(10_000_001), 'weir.mxl'))).toMatch(/at most 10000000 bytes/)
  })

  test('is read where sizes follow the data, as streaming programs write it', () => {
    const chunks: Uint8Array[] = []
    const zip = new Zip((_, chunk) => chunks.push(chunk))
    const score = new ZipDeflate('score.xml')
    zip.add(score)
    score.push(strToU8('<a>'), false)
    score.push(strToU8('</a>'), true)
    zip.end()
    expect(strFromU8(must(read(Buffer.concat(chunks), 'score.xml')))).toBe('<a></a>')
  })

  test('is refused when it is cut off, cannot be inflated, or is too full', () => {
    expect(refusal(openZip(archive.subarray(0, 60), 'weir.mxl'))).toMatch(/a ZIP archive that is whole/)
    const scrambled = archive.slice()
    for (let i = 45; i < 60; i++) scrambled[i] = 0x5a
    expect(refusal(read(scrambled, 'score.xml'))).toMatch(/score.xml, "damaged" .* not encrypted/)
    const many = zipSync(
      Object.fromEntries(Array.from({ length: 1001 }, (_, i) => [`f${i}`, new Uint8Array(0)])),
    )
    expect(refusal(openZip(many, 'weir.mxl'))).toMatch(
      /"more than 1000 files in the archive" .* at most 1000/,
    )
    expect(openZip(new Uint8Array(Buffer.concat(Array(300).fill(many.subarray(0, 30_000)))), 'w').ok).toBe(
      false,
    )
  })

  test('never throws, whatever bytes are changed', () => {
    fc.assert(
      fc.property(fc.nat(archive.length - 1), fc.integer({ min: 0, max: 255 }), (at, value) => {
        const changed = archive.slice()
        changed[at] = value
        const opened = openZip(changed, 'weir.mxl')
        if (opened.ok) for (const name of opened.value.names) opened.value.read(name)
      }),
      { numRuns: 500 },
    )
  })
})

import fc from 'fast-check'
import { strToU8, zipSync } from 'fflate'
import { describe, expect, test } from 'vitest'
import { isZip, openZip } from '../../../src/exchange/musicxml/zip.ts'
import { must, refusal } from './scores.ts'

const read = (archive: Uint8Array, name: string) => must(openZip(archive, 'weir.mxl')).read(name)

/** Overwrites a 32-bit number of the archive's list of files: 20 = packed size, 24 = size, 16 = checksum. */
const withCentral = (archive: Uint8Array, offset: number, value: number): Uint8Array => {
  const out = archive.slice()
  const view = new DataView(out.buffer)
  const list = view.getUint32(out.length - 22 + 16, true)
  view.setUint32(list + offset, value, true)
  return out
}

// npm fflate 0.8 writes the archives: a program that is not ours.
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

  const archive = zipSync({ 'score.xml': strToU8('<a>'.repeat(2000)) })

  test('names the file that is not there, and looks names up in the archive only', () => {
    expect(refusal(read(archive, '../../etc/passwd'))).toMatch(
      /"\.\.\/\.\.\/etc\/passwd" .* a file that the archive holds/,
    )
  })

  test('is refused where it inflates beyond the size it declares, without inflating it', () => {
    const bomb = zipSync({ 'score.xml': new Uint8Array(29_000_000) }, { level: 9 })
    expect(bomb.length).toBeLessThan(60_000)
    const lying = withCentral(bomb, 24, 1000)
    const before = process.memoryUsage().arrayBuffers
    expect(refusal(read(lying, 'score.xml'))).toMatch(/not of the size that the archive says/)
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(5_000_000)
  })

  test('is refused where it declares more than the limit', () => {
    const big = withCentral(archive, 24, 30_000_001)
    expect(refusal(read(big, 'score.xml'))).toMatch(/"30000001 bytes" .* at most 30000000 bytes inflated/)
  })

  test('is refused when it is larger than the limit itself', () => {
    expect(refusal(openZip(new Uint8Array(10_000_001), 'weir.mxl'))).toMatch(/at most 10000000 bytes/)
  })

  test('is refused when its checksum does not fit', () => {
    expect(refusal(read(withCentral(archive, 16, 1), 'score.xml'))).toMatch(/damaged/)
  })

  test('is refused when it is encrypted, cut off, or too full', () => {
    const flags = archive.slice()
    const list = new DataView(flags.buffer).getUint32(flags.length - 6, true)
    flags[list + 8] = 1
    expect(refusal(read(flags, 'score.xml'))).toMatch(/"encrypted"/)
    expect(refusal(openZip(archive.subarray(0, archive.length - 30), 'weir.mxl'))).toMatch(/no list of files/)
    const many = zipSync(
      Object.fromEntries(Array.from({ length: 1001 }, (_, i) => [`f${i}`, new Uint8Array(0)])),
    )
    expect(refusal(openZip(many, 'weir.mxl'))).toMatch(/"1001 files in the archive" .* at most 1000/)
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

import { inflateRawSync } from 'node:zlib'
import { ok, problem, type Result } from '../../music/result.ts'
import { MAX_ARCHIVE_BYTES, MAX_ARCHIVE_FILES, MAX_XML_BYTES } from './limits.ts'
import { clean } from './text.ts'

/*
 * The few parts of the ZIP format that a compressed score needs (PKWARE APPNOTE 6.3: 4.3.7, 4.3.12, 4.3.16).
 * Read by hand so that nothing is inflated beyond its declared size and damage is noticed by the checksum.
 * Names in the archive are only looked up in the archive; nothing ever touches the disk.
 */
const END = 0x06054b50
const CENTRAL = 0x02014b50
const LOCAL = 0x04034b50
const END_LENGTH = 22
const LONGEST_COMMENT = 0xffff
const SAYS_ZIP64 = 0xffffffff

const ACCEPTED = 'a ZIP archive that is whole, not encrypted and not split'

type Entry = {
  readonly method: number
  readonly encrypted: boolean
  readonly crc: number
  readonly packed: number
  readonly size: number
  readonly offset: number
}

export type Archive = {
  readonly names: readonly string[]
  readonly read: (name: string) => Result<Uint8Array>
}

export const isZip = (bytes: Uint8Array): boolean =>
  bytes[0] === 0x50 && bytes[1] === 0x4b && (bytes[2] ?? 0xff) < 8 && (bytes[3] ?? 0xff) < 9

const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1
  return c
})

const crc32 = (bytes: Uint8Array): number => {
  let c = 0xffffffff
  for (const b of bytes) c = (CRC_TABLE[(c ^ b) & 0xff] ?? 0) ^ (c >>> 8)
  return (c ^ 0xffffffff) >>> 0
}

/** The list of files of an archive; each is inflated only when read. Sizes over the limits are refused. */
export const openZip = (bytes: Uint8Array, file: string): Result<Archive> => {
  if (bytes.length > MAX_ARCHIVE_BYTES)
    return problem(file, `${bytes.length} bytes`, `an archive of at most ${MAX_ARCHIVE_BYTES} bytes`)
  const damaged = (where: string) => problem(file, `archive, ${where}`, ACCEPTED)
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const end = endRecord(view)
  if (end === null) return damaged('no list of files at its end')
  const count = view.getUint16(end + 10, true)
  if (count > MAX_ARCHIVE_FILES)
    return problem(file, `${count} files in the archive`, `at most ${MAX_ARCHIVE_FILES}`)
  const entries = new Map<string, Entry>()
  let at = view.getUint32(end + 16, true)
  for (let i = 0; i < count; i++) {
    if (at + 46 > end || view.getUint32(at, true) !== CENTRAL) return damaged('list of files')
    const nameLength = view.getUint16(at + 28, true)
    const name = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameLength))
    const entry: Entry = {
      method: view.getUint16(at + 10, true),
      encrypted: (view.getUint16(at + 8, true) & 1) !== 0,
      crc: view.getUint32(at + 16, true),
      packed: view.getUint32(at + 20, true),
      size: view.getUint32(at + 24, true),
      offset: view.getUint32(at + 42, true),
    }
    if ([entry.packed, entry.size, entry.offset].includes(SAYS_ZIP64)) return damaged('made for huge files')
    entries.set(name, entry)
    at += 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true)
  }
  const read = (name: string): Result<Uint8Array> => {
    const entry = entries.get(name)
    if (!entry) return problem(`${file}, file in the archive`, clean(name), 'a file that the archive holds')
    return unpack(bytes, view, entry, `${file}, ${clean(name)}`)
  }
  return ok({ names: [...entries.keys()], read })
}

const endRecord = (view: DataView): number | null => {
  const lowest = Math.max(0, view.byteLength - END_LENGTH - LONGEST_COMMENT)
  for (let at = view.byteLength - END_LENGTH; at >= lowest; at--)
    if (view.getUint32(at, true) === END) return at
  return null
}

const unpack = (bytes: Uint8Array, view: DataView, e: Entry, field: string): Result<Uint8Array> => {
  if (e.size > MAX_XML_BYTES)
    return problem(field, `${e.size} bytes`, `at most ${MAX_XML_BYTES} bytes inflated`)
  if (e.encrypted) return problem(field, 'encrypted', ACCEPTED)
  if (e.offset + 30 > view.byteLength || view.getUint32(e.offset, true) !== LOCAL)
    return problem(field, 'not where the archive says', ACCEPTED)
  const from = e.offset + 30 + view.getUint16(e.offset + 26, true) + view.getUint16(e.offset + 28, true)
  const packed = bytes.subarray(from, from + e.packed)
  if (packed.length !== e.packed) return problem(field, 'cut off', ACCEPTED)
  if (e.method !== 0 && e.method !== 8)
    return problem(field, `compression method ${e.method}`, 'stored or deflated')
  const plain = e.method === 0 ? packed : inflate(packed, e.size)
  if (plain === null || plain.length !== e.size || crc32(plain) !== e.crc)
    return problem(field, 'damaged, or not of the size that the archive says', ACCEPTED)
  return ok(plain)
}

/** Never more than `size` bytes, whatever the data would give; null when they give more or are damaged. */
const inflate = (packed: Uint8Array, size: number): Uint8Array | null => {
  try {
    return inflateRawSync(packed, { maxOutputLength: Math.max(1, size) })
  } catch {
    return null
  }
}

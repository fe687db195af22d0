import { Unzip, UnzipInflate } from 'fflate'
import { ok, problem, type Result } from '../music/result.ts'
import { MAX_ARCHIVE_BYTES, MAX_ARCHIVE_FILES, MAX_XML_BYTES } from './limits.ts'
import { clean } from './text.ts'

/** Names of the files of an archive, and one of them inflated. Nothing of it ever touches the disk. */
export type Archive = {
  readonly names: readonly string[]
  readonly read: (name: string) => Result<Uint8Array>
}

const ACCEPTED = 'a ZIP archive that is whole, not encrypted and not split'
/** So much is handed over at once: a stop comes after a few megabytes, and the library's recursion stays shallow. */
const PORTION = 8192

export const isZip = (bytes: Uint8Array): boolean =>
  bytes[0] === 0x50 && bytes[1] === 0x4b && (bytes[2] as number) < 8 && (bytes[3] as number) < 9

/**
 * The list of files of an archive; each is inflated only when read, and no further than the limit, whatever size the
 * archive declares. Its checksums are not compared: damage shows as data that does not inflate, or as broken XML.
 */
export const openZip = (bytes: Uint8Array, file: string): Result<Archive> => {
  if (bytes.length > MAX_ARCHIVE_BYTES)
    return problem(file, `${bytes.length} bytes`, `an archive of at most ${MAX_ARCHIVE_BYTES} bytes`)
  const listed = passThrough(bytes, null)
  if (!listed.whole) return problem(file, 'archive', ACCEPTED)
  const { names } = listed
  if (names.length > MAX_ARCHIVE_FILES)
    return problem(
      file,
      `more than ${MAX_ARCHIVE_FILES} files in the archive`,
      `at most ${MAX_ARCHIVE_FILES}`,
    )
  const read = (name: string): Result<Uint8Array> => {
    if (!names.includes(name))
      return problem(`${file}, file in the archive`, clean(name), 'a file that the archive holds')
    const { size, declared, chunks, whole } = passThrough(bytes, name)
    const field = `${file}, ${clean(name)}`
    if (size > MAX_XML_BYTES)
      return problem(field, `more than ${MAX_XML_BYTES} bytes`, `at most ${MAX_XML_BYTES} bytes inflated`)
    if (!whole || (declared !== undefined && declared !== size)) return problem(field, 'damaged', ACCEPTED)
    return ok(Buffer.concat(chunks))
  }
  return ok({ names, read })
}

type Passed = {
  readonly names: string[]
  /** Inflated bytes of the wanted file, and what the archive says there are. */
  readonly chunks: Uint8Array[]
  size: number
  declared: number | undefined
  whole: boolean
}

/** The archive from beginning to end, or to the first limit; the first file of the wanted name is inflated. */
const passThrough = (bytes: Uint8Array, wanted: string | null): Passed => {
  const out: Passed = { names: [], chunks: [], size: 0, declared: undefined, whole: false }
  const stopped = () => out.names.length > MAX_ARCHIVE_FILES || out.size > MAX_XML_BYTES
  const unzip = new Unzip(f => {
    out.names.push(f.name)
    if (f.name !== wanted || out.names.indexOf(f.name) < out.names.length - 1) return
    out.declared = f.originalSize
    f.ondata = (error, chunk) => {
      if (error) throw error
      out.size += chunk.length
      if (!stopped()) out.chunks.push(chunk)
    }
    f.start()
  })
  unzip.register(UnzipInflate)
  try {
    for (let at = 0; at < bytes.length && !stopped(); at += PORTION)
      unzip.push(bytes.subarray(at, at + PORTION), at + PORTION >= bytes.length)
    out.whole = true
  } catch {
    // Whatever the library stumbled over: the archive is not whole.
  }
  return out
}

import { createHash } from 'node:crypto'
import { realpath, rm } from 'node:fs/promises'
import { connect, createServer, type Server } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { ensureFolder, type Home } from './home.ts'
import { codeOf, trouble } from './trouble.ts'
import { practiceIsOpen } from './words.ts'

export type PracticeLock =
  | { readonly ok: true; readonly release: () => Promise<void> }
  | { readonly ok: false; readonly message: string }

const CANNOT = "Can't open practice"

/**
 * Where the practice screen of a home listens: a name that the system frees when its process ends, however it ends.
 * Linux and Windows have names without a file; elsewhere it is a short path in the temporary folder.
 */
export const lockAddress = (place: string, platform: NodeJS.Platform, user: number): string => {
  const name = `gradino-${createHash('sha256').update(`${user} ${place}`).digest('hex').slice(0, 16)}`
  if (platform === 'linux') return `\0${name}`
  return platform === 'win32' ? `\\\\.\\pipe\\${name}` : join(tmpdir(), `${name}.sock`)
}

/** A server at the address, or null where one listens already. */
const listen = (address: string): Promise<Server | null> =>
  new Promise((resolve, reject) => {
    const server = createServer(socket => socket.destroy())
    server.once('error', error => {
      const taken = address.startsWith('\\\\') ? ['EADDRINUSE', 'EACCES'] : ['EADDRINUSE']
      if (taken.includes(codeOf(error))) resolve(null)
      else reject(error)
    })
    server.listen(address, () => resolve(server.unref()))
  })

const answers = (address: string): Promise<boolean> =>
  new Promise(resolve => {
    const socket = connect(address, () => {
      socket.destroy()
      resolve(true)
    })
    socket.once('error', () => resolve(false))
  })

/**
 * Listens at the address, or null; a socket file that a killed process left there is cleared away first.
 * Two that clear the same one within a millisecond could both listen; names without a file know no such moment.
 */
export const listenAt = async (address: string): Promise<Server | null> => {
  const server = await listen(address)
  if (server || !address.startsWith('/') || (await answers(address))) return server
  await rm(address, { force: true })
  return listen(address)
}

/**
 * One practice screen at a time for each home, since two would share the pedal and the loudspeaker.
 * Throws StoreError when the home cannot be written.
 */
export const acquirePractice = async (home: Home): Promise<PracticeLock> => {
  await ensureFolder(home.data, CANNOT)
  try {
    const place = await realpath(home.data)
    const server = await listenAt(lockAddress(place, process.platform, process.getuid?.() ?? 0))
    if (!server) return { ok: false, message: practiceIsOpen(place) }
    return { ok: true, release: () => new Promise(resolve => server.close(() => resolve())) }
  } catch (error) {
    throw trouble(CANNOT, home.data, error)
  }
}

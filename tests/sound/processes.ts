import { execFileSync } from 'node:child_process'
import { readdirSync, readFileSync } from 'node:fs'

/** `state` is 'Z' for one that has ended but was not yet collected. */
type Process = {
  readonly pid: number
  readonly parent: number
  readonly state: string
  readonly args: string
}

const fromProc = (pid: string): Process[] => {
  try {
    const [state = '', parent] = readFileSync(`/proc/${pid}/stat`, 'utf8')
      .replace(/^.*\) /s, '')
      .split(' ')
    const args = readFileSync(`/proc/${pid}/cmdline`, 'utf8').replaceAll('\0', ' ').trim()
    return [{ pid: Number(pid), parent: Number(parent), state, args }]
  } catch {
    // It ended meanwhile.
    return []
  }
}

/** All processes of this computer: a bare Linux has no `ps`. */
export const processes = (): readonly Process[] =>
  process.platform === 'linux'
    ? readdirSync('/proc')
        .filter(name => /^\d+$/.test(name))
        .flatMap(fromProc)
    : execFileSync('ps', ['-A', '-o', 'pid=,ppid=,stat=,args='], { encoding: 'utf8' })
        .split('\n')
        .flatMap(line => {
          const [, pid, parent, state = '', args = ''] = /^\s*(\d+)\s+(\d+)\s+(\S+)\s+(.*)$/.exec(line) ?? []
          return pid === undefined ? [] : [{ pid: Number(pid), parent: Number(parent), state, args }]
        })

import { DEVICES, type Device } from './outputs/output.ts'
import { startPlayer } from './player-process.ts'

/** What one output is worth on this computer. */
export type OutputReport =
  | { readonly name: Device; readonly works: true; readonly depthMs: number; readonly startMs: number }
  | { readonly name: Device; readonly works: false; readonly why: string }

/** Opens each output in turn, in its own process, with silence. */
export const probeOutputs = async (o: {
  player: URL
  now: () => number
}): Promise<readonly OutputReport[]> => {
  const reports: OutputReport[] = []
  for (const name of DEVICES) {
    const began = o.now()
    const opened = await startPlayer({ player: o.player, output: name, tell: () => {}, ended: () => {} })
    if (opened.ok) {
      reports.push({ name, works: true, depthMs: opened.depthMs, startMs: Math.round(o.now() - began) })
      await opened.player.close()
    } else reports.push({ name, works: false, why: opened.why })
  }
  return reports
}

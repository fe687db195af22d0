import { DEVICES, type Device } from './outputs/output.ts'
import { startPlayer } from './player-process.ts'

/** What one output is worth on this computer. */
export type OutputReport =
  | {
      readonly name: Device
      readonly works: true
      readonly depthMs: number
      readonly startMs: number
      /** Where it is heard, as the system calls it; null = the system does not say. */
      readonly device: string | null
      /** All devices of this output; empty where it always plays through the system's own choice. */
      readonly devices: readonly string[]
    }
  | { readonly name: Device; readonly works: false; readonly why: string }

/** A busy computer is waited for so long, ms: there is no hurry here. */
const PATIENCE = 20_000

/** Opens each output in turn, in its own process, with silence. */
export const probeOutputs = async (o: {
  player: URL
  now: () => number
}): Promise<readonly OutputReport[]> => {
  const reports: OutputReport[] = []
  for (const name of DEVICES) {
    const began = o.now()
    const opened = await startPlayer({
      player: o.player,
      start: { output: name, deep: false, device: null, faint: false, list: true },
      patience: PATIENCE,
      tell: () => {},
      ended: () => {},
    })
    if (opened.ok) {
      const { depthMs, device, devices } = opened
      const startMs = Math.round(o.now() - began)
      reports.push({ name, works: true, depthMs, startMs, device, devices })
      await opened.player.close()
    } else reports.push({ name, works: false, why: opened.why })
  }
  return reports
}

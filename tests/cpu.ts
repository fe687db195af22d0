/** Milliseconds that this process computed for a piece of work: what else the machine does is not counted. */
export const cpuMs = (work: () => void): number => {
  const before = process.cpuUsage()
  work()
  const { user, system } = process.cpuUsage(before)
  return (user + system) / 1000
}

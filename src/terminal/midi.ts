/**
 * MIDI pedals: bytes of one port -> keys, so that everything else (learning, lock, screens) knows keys only.
 *
 * A controller is a level: it is down when its value reaches 64 and up when it falls to 40, so that a pedal which stops
 * halfway is one press. Both edges are keys, 'midi-cc64' and 'midi-cc64-low': some pedals idle at 127, and learning tells
 * which edge is the press. A note is a press where it begins ('midi-note36').
 *
 * Source: MIDI 1.0 Detailed Specification: status bytes, controllers 64 (damper), 66 (sostenuto), 67 (soft), note on with
 * velocity 0 as note off. The specification calls 64 and above "on"; 40 is ours, so that a trembling foot is one press.
 */

const DOWN = 64
const UP = 40
/** Controllers 120 to 127 are channel mode messages, no pedals. */
const LAST_CONTROLLER = 119

/** Data bytes of each channel message, by the high half of its status byte. */
const LENGTH: Readonly<Record<number, number>> = { 8: 2, 9: 2, 10: 2, 11: 2, 12: 1, 13: 1, 14: 2 }

/** Keys of one MIDI port. Bytes may be cut anywhere; running status and real-time bytes are understood. */
export const midiKeys = (): { readonly feed: (bytes: Iterable<number>) => string[] } => {
  let status = 0
  let data: number[] = []
  /** By channel and controller. */
  const levels = new Map<number, 'down' | 'up'>()

  const controller = (channel: number, number: number, value: number): string | null => {
    if (number > LAST_CONTROLLER) return null
    const at = channel * 128 + number
    const before = levels.get(at)
    if (value >= DOWN && before !== 'down') {
      levels.set(at, 'down')
      return `midi-cc${number}`
    }
    if (value <= UP && before !== 'up') {
      levels.set(at, 'up')
      return `midi-cc${number}-low`
    }
    return null
  }
  const message = (): string | null => {
    const [first = 0, second = 0] = data
    if (status >> 4 === 9 && second > 0) return `midi-note${first}`
    return status >> 4 === 11 ? controller(status & 15, first, second) : null
  }

  return {
    feed(bytes) {
      const keys: string[] = []
      for (const b of bytes) {
        // Clock, active sensing and their kin may stand between any two bytes.
        if (b >= 0xf8) continue
        if (b >= 0x80) {
          status = b >= 0xf0 ? 0 : b
          data = []
          continue
        }
        const length = LENGTH[status >> 4]
        if (length === undefined) continue
        data.push(b)
        if (data.length < length) continue
        const key = message()
        data = []
        if (key !== null) keys.push(key)
      }
      return keys
    },
  }
}

/** Whether a key comes from a MIDI pedal. */
export const isMidi = (id: string): boolean => id.startsWith('midi-')

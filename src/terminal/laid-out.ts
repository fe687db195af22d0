import { render } from 'ink'
import type { ReactElement } from 'react'

/** Elements that Ink lays out. They bring it along: a screen that is made of rows loads neither Ink nor React. */
export type LaidOut = { readonly element: ReactElement; readonly render: typeof render }

export const laidOut = (element: ReactElement): LaidOut => ({ element, render })

import { Text } from 'ink'
import type { ReactElement } from 'react'
import { Page } from '../page.tsx'
import { layoutOf, TOO_SMALL } from '../sizes.ts'
import { compose } from './compose.ts'
import type { Shown } from './shown.ts'

/** The practice screen. Readable from two meters: tempo, row, beat, and the state. From half a meter: the rest. */
export const PracticeView = (p: Shown): ReactElement => {
  const layout = layoutOf(p.size)
  if (!layout) return <Text wrap="wrap">{TOO_SMALL}</Text>
  return <Page rows={compose(p, layout).rows} />
}

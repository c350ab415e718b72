// Names of things that have no mark of their own, as findings give them.

import type { Opening } from '../../core/plan.ts'

export const openingName = (wall: string, o: Opening, index: number): string => o.id ?? `${wall}/${index + 1}`

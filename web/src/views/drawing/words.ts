// Words for how sure a recognition is, and for what it is.

import { lengthUnit, number, t } from '../../show.ts'
import type { Item } from './items.ts'
import { lengthOf } from './items.ts'

// The least confidence of what is clear, and of what is likely.
export const [clear, likely] = [0.85, 0.6]

export const percent = (confidence: number): string => t('drawing.percent', { n: number(Math.round(confidence * 100)) })

export const sureness = (confidence: number): string => t(confidence >= clear ? 'drawing.clear' : confidence >= likely ? 'drawing.likely' : 'drawing.doubtful')

export function kindOf(i: Item): string {
  if (i.opening) return t(`drawing.kind.${i.opening.kind}`)
  return t(`drawing.kind.${i.kind}`)
}

// Its measures in short.
export function measures(i: Item): string {
  if (i.opening) return t('drawing.measure.opening', { width: lengthUnit(Math.round(i.opening.width)) })
  if (i.line) return t('drawing.measure.wall', { thickness: lengthUnit(Math.round(i.thickness ?? 0)), length: lengthUnit(Math.round(lengthOf(i))) })
  return i.words ?? ''
}

export const signsOf = (i: Item): string => i.signs.filter((s) => s !== '').map((s) => t(`drawing.sign.${s}`)).join(', ')

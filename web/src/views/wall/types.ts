// One wall as the server gives it: its drawings, and its parts by the ids that the
// drawings carry.

import type { Finding } from '../../api.ts'
import type { Wall } from '../../core/plan.ts'
import type { WallProof } from '../common/proof.ts'

export interface View {
  id: string
  kind: 'frame' | 'boards' | 'section'
  face?: 'a' | 'b'
  layer?: number
  what?: string
  where?: string[]
}

export interface Rule {
  name: string
  value: string
  unit?: string
  source?: string
  status: string
  note?: string
}

export interface Part {
  id: string
  kind: 'steel' | 'board' | 'fill' | 'bracket'
  layer: string // frame, fill, trim, or a face's layer: a1, b2
  what: string
  product?: string
  name?: string
  cut?: number
  width?: number
  height?: number
  mass?: number
  why?: string
  rule?: Rule
}

export interface WallView {
  wall: Wall
  level: string
  build_up: string
  length: number
  height: number
  thickness: number
  views: View[]
  parts: Part[]
  findings?: Finding[]
  proof?: WallProof
  laid_out?: boolean
  choices?: string[] // why its runs are laid out as they are
  takeoff?: { group: string; code: string; name: string; unit: string; quantity: number }[]
}

// The view in which a part of a layer is drawn.
export function viewOf(part: Part, views: readonly View[]): string | null {
  if (/^[ab]\d+$/.test(part.layer)) return part.layer
  return views.find((v) => v.kind === 'frame')?.id ?? null
}

// The layer that a view shows; null for sections, which show all.
export function layerOf(view: View | undefined): string | null {
  if (!view || view.kind === 'section') return null
  return view.kind === 'frame' ? 'frame' : view.id
}

// Revisions, and what changes between two of them.

import type { Size } from '../material/types.ts'

export interface Revision {
  revision: number
  label: string
  when: string
  kind?: string
  mark?: string
}

export type Became = 'added' | 'removed' | 'changed' | 'affected'

export interface Change {
  what: string
  old?: string
  new?: string
}

interface Figures {
  old: number
  new: number
}

export interface Variation {
  general?: { kind: string; id?: string; what: Became; changes?: Change[] }[]
  walls?: { wall: string; was?: string; level: string; kind: Became; changes?: Change[]; hours: Figures; parts_kept: number; parts_gone?: string[]; parts_made?: string[] }[]
  order?: { product: string; name: string; size?: Size; pack: string; old: number; new: number }[]
  hours: Figures
  mass: Figures
  price?: { currency: string; lines: { name: string; old: string; new: string; difference: string; own?: boolean }[]; incomplete?: boolean }
}

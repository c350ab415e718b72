// What the server says of a table that is to be taken in.

import type { Finding } from '../../api.ts'
import type { Change } from '../../core/plan.ts'

export interface Ask {
  name: string
  kind?: string
  columns?: Record<string, string>
  values?: Record<string, Record<string, string>>
  unit?: string
}

export interface Changing {
  object: string
  field: string
  was: string
  is: string
}

export interface Deviation {
  level: string
  object: string
  what: string
  at: number
  planned: number
  measured: number
  by: number
  point?: string
}

export interface Intake {
  kind: string
  heads: string[]
  columns: { field: string; head: string }[]
  unit: string
  units: string[]
  schedule?: { changes: Changing[]; unread: { field: string; text: string }[] }
  survey?: { walls: { bent: boolean }[] | null; moved_structure: string[] | null; deviations: Deviation[] | null; tolerance: number }
  changes: Change[]
  findings: Finding[]
  remember: string
  file: string
}

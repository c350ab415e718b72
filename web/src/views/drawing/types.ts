// What the server reads of a drawing.

import type { Finding } from '../../api.ts'
import type { Plan, Point } from '../../core/plan.ts'

export type Role = string

export interface LayerRole {
  layer: string
  as: Role
}

export interface Mapping {
  unit?: string
  layers?: LayerRole[]
}

export interface Recognised {
  id: string
  kind: string
  confidence: number
  why: string
  signs: string[]
}

// What lies on one layer: lines as x, y, x, y; filled outlines as x, y in turn.
export interface Sheet {
  layer: string
  lines: number[]
  filled: number[][]
}

export interface Reading {
  plan: Plan
  stats: {
    version: string
    unit: string
    header_unit?: string
    size: [number, number] // of the walls, in units of the drawing
    layers: LayerRole[]
    recognised: Recognised[]
    left_over: { from: Point; to: Point }[]
  }
  picture: { layers: Sheet[]; words: { x: number; y: number; text: string }[]; cut: number }
  findings: Finding[]
  units: { name: string; mm: number }[]
  roles: Role[]
  mapping: string
}

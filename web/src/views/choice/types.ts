// The choice of a build-up as the server gives it.

import type { BuildUp, Demands } from '../../core/plan.ts'

export interface Demand {
  require: Demands
  wet: [string, string]
  height: number
  head?: string
  head_move?: number
  thickness?: number
  service?: number
  frames?: string[]
}

export type Standing = 'proven' | 'expected' | 'unknown' | 'fails'

export interface Need {
  about: string
  asked: string
  standing: Standing
  got?: string
  by?: string
  open?: string[]
}

export interface Candidate {
  words: string
  standing: Standing
  without?: string
  relaxed_to?: string
  measures: Partial<Record<Measure, number>>
  needs: Need[]
  build_up: BuildUp
}

export const measures = ['thickness', 'mass', 'labour', 'carbon', 'cost'] as const
export type Measure = (typeof measures)[number]

export interface Chosen {
  demand: Demand
  asked: string
  rank: Measure
  priced: boolean
  standing: Standing
  tried: number
  on_front: number
  why?: string
  front: Candidate[]
  near: Candidate[]
  relaxed: Candidate[]
}

// Proofs as the server gives them.

import type { Outcome } from './verdict.tsx'

export interface Derivation {
  name: string
  symbol?: string
  value: number
  unit?: string
  text?: string
  range?: { low: number; high: number }
  method?: string
  source?: string
  status?: string
  note?: string
  from?: Derivation[]
}

export interface Check {
  need: string
  name: string
  verdict: Outcome
  asked?: string
  use?: number // demand over resistance; 1 is the limit
  got?: Derivation
  missing?: string[]
  advice?: string
}

export interface WallProof {
  wall: string
  build_up?: string
  asked?: string[]
  verdict: Outcome
  checks: Check[]
}

export const needs = ['structure', 'fire', 'sound', 'heat', 'moisture', 'load on the floor'] as const

// A wall in the table of proofs: its checks without derivations, which are with the
// wall itself. Got says the figure shortly.
export interface ProofRow {
  wall: string
  level: string
  build_up: string
  asked: string[]
  verdict: Outcome
  checks: { need: string; name: string; verdict: Outcome; asked?: string; use?: number; got?: string }[]
}

// New marks for objects: the next free number after the level's or kind's prefix,
// as L1-07 follows L1-06.

import type { Plan } from './plan.ts'

export function taken(plan: Plan): Set<string> {
  return new Set([...plan.levels, ...(plan.structure ?? []), ...(plan.rooms ?? []), ...plan.walls].map((o) => o.id))
}

export function nextMark(used: Set<string>, prefix: string): string {
  let n = 0
  for (const id of used) {
    const tail = id.startsWith(prefix) ? id.slice(prefix.length) : ''
    if (/^\d+$/.test(tail)) n = Math.max(n, Number(tail))
  }
  const mark = prefix + String(n + 1).padStart(2, '0')
  used.add(mark)
  return mark
}

export const wallPrefix = (level: string) => `${level}-`
export const roomPrefix = (level: string) => `R${level.replace(/^\D+/, '')}-`
export const structurePrefix = (level: string) => `S${level.replace(/^\D+/, '')}-`

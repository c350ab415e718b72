// Quantities with their units as people read them in the system chosen. The server
// reckons in metric units.

import { units } from '../../preferences.ts'
import { number } from '../../show.ts'

// What one metric unit is in the other system (exact by definition of the yard, the
// pound and the US gallon).
const imperial: Record<string, { unit: string; factor: number }> = {
  m: { unit: 'ft', factor: 1 / 0.3048 },
  'm²': { unit: 'sq ft', factor: 1 / 0.09290304 },
  'm³': { unit: 'cu ft', factor: 1 / 0.028316846592 },
  kg: { unit: 'lb', factor: 1 / 0.45359237 },
  'kg/m²': { unit: 'lb/sq ft', factor: 0.09290304 / 0.45359237 },
  'h/m²': { unit: 'h/sq ft', factor: 0.09290304 },
  'kg CO2e/m²': { unit: 'lb CO2e/sq ft', factor: 0.09290304 / 0.45359237 },
  l: { unit: 'gal', factor: 1 / 3.785411784 },
}

// A quantity's number and unit.
export function measured(x: number, unit: string): { value: number; unit: string } {
  const to = units.value === 'imperial' ? imperial[unit] : undefined
  return to ? { value: x * to.factor, unit: to.unit } : { value: x, unit }
}

export function quantity(x: number, unit: string, digits = unit === 'pcs' ? 0 : 1): string {
  const m = measured(x, unit)
  return `${number(m.value, digits)} ${unitName(m.unit)}`
}

export const mass = (kg: number) => quantity(kg, 'kg', kg < 10 ? 2 : 1)

export const unitName = (unit: string) => (unit === 'pcs' ? '×' : unit)

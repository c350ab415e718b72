// What the person chose for this browser: language, units, appearance.

import { computed, effect, signal } from '@preact/signals'
import type { System } from './core/units.ts'

export type Language = 'en' | 'de'
export type Appearance = 'system' | 'light' | 'dark'

function kept<T extends string>(name: string, fallback: T, allowed: readonly T[]) {
  const stored = typeof localStorage === 'undefined' ? null : localStorage.getItem(`nogging.${name}`)
  const s = signal<T>(allowed.includes(stored as T) ? (stored as T) : fallback)
  if (typeof localStorage !== 'undefined') effect(() => localStorage.setItem(`nogging.${name}`, s.value))
  return s
}

const spoken: Language = typeof navigator !== 'undefined' && navigator.language.startsWith('de') ? 'de' : 'en'

export const language = kept<Language>('language', spoken, ['en', 'de'])
export const units = kept<System>('units', 'metric', ['metric', 'imperial'])
export const appearance = kept<Appearance>('appearance', 'system', ['system', 'light', 'dark'])

// What is shown where the person leaves the appearance to the system.
const system = typeof matchMedia === 'undefined' ? null : matchMedia('(prefers-color-scheme: dark)')
const systemDark = signal(system?.matches ?? false)
system?.addEventListener('change', (e) => (systemDark.value = e.matches))

export const dark = computed(() => (appearance.value === 'system' ? systemDark.value : appearance.value === 'dark'))

// The fields of what is asked of a wall, as used by the panel, the brush and the
// matrix of rooms.

import type { Demands } from '../../core/plan.ts'
import { plan } from '../../state.ts'
import { t } from '../../show.ts'
import { NumberField, SelectField, TextField } from './fields.tsx'
import type { Shared } from './fields.tsx'

const metric = { fire: ['EI 30', 'EI 60', 'EI 90', 'EI 120'], sound: ['Rw 42', 'Rw 48', 'Rw 53', 'Rw 58'], duty: ['zone 1', 'zone 2'] }
const us = { fire: ['1 h', '2 h', '3 h'], sound: ['STC 45', 'STC 50', 'STC 55', 'STC 60'], duty: ['LD', 'MD', 'HD', 'SD'] }

export const wetClasses = ['W0-I', 'W1-I', 'W2-I', 'W3-I']

export type DemandKey = keyof Demands
export type DemandValues = { [K in DemandKey]?: Shared<NonNullable<Demands[K]>> }

export function DemandFields(p: { of: DemandValues; onChange: (key: DemandKey, v: string | number | undefined) => void }) {
  const lists = plan.value?.practice === 'us' ? us : metric
  return (
    <>
      <TextField label={t('demand.fire')} value={p.of.fire} list={lists.fire} hint={lists.fire[1]} onChange={(v) => p.onChange('fire', v)} />
      <TextField label={t('demand.sound')} value={p.of.sound} list={lists.sound} hint={lists.sound[2]} onChange={(v) => p.onChange('sound', v)} />
      <TextField label={t('demand.duty')} value={p.of.duty} list={lists.duty} hint={lists.duty[0]} onChange={(v) => p.onChange('duty', v)} />
      <SelectField label={t('demand.wet')} value={p.of.wet} none={t('demand.wet.rooms')} options={wetClasses.map((w) => [w, w] as const)} onChange={(v) => p.onChange('wet', v)} />
      <NumberField label={t('demand.pressure')} value={p.of.pressure} unit="Pa" hint={t('field.practice')} onChange={(v) => p.onChange('pressure', v)} />
      <TextField label={t('demand.u_value')} value={p.of.u_value} hint="W/m²K" onChange={(v) => p.onChange('u_value', v)} />
    </>
  )
}

// What is asked, in a few words.
export const asked = (d: Demands | undefined): string => [d?.fire, d?.sound, d?.duty, d?.wet, d?.pressure && `${d.pressure} Pa`, d?.u_value && `U ${d.u_value}`].filter(Boolean).join(', ')

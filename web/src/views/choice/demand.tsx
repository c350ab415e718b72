// What is asked of a wall, filled in from the wall; each answer starts a new choice.

import { useState } from 'preact/hooks'
import { length, readLength, t } from '../../show.ts'
import type { Demands } from '../../core/plan.ts'
import type { Demand } from './types.ts'

const duties = ['', 'zone 1', 'zone 2', 'LD', 'MD', 'HD', 'SD']
const wets = ['', 'W0-I', 'W1-I', 'W2-I', 'W3-I']

export function DemandForm({ of, wall, onAsk }: { of: Demand; wall: string; onAsk: (d: Demand) => void }) {
  const [d, setD] = useState(of)
  const ask = (next: Demand) => {
    setD(next)
    onAsk(next)
  }
  const require = (field: keyof Demands, value: string) => ask({ ...d, require: { ...d.require, [field]: value || undefined } })
  return (
    <form class="demand" aria-label={t('choice.asked', { wall })} onSubmit={(e) => e.preventDefault()}>
      <h2>{t('choice.asked', { wall })}</h2>
      <div class="asks">
        <Field name={t('need.fire')} value={d.require.fire ?? ''} hint="EI 60, F90-A, 1 h" onSet={(v) => require('fire', v)} />
        <Field name={t('need.sound')} value={d.require.sound ?? ''} hint="Rw 52, STC 50" onSet={(v) => require('sound', v)} />
        <Choose name={t('need.duty')} value={d.require.duty ?? ''} of={duties} onSet={(v) => require('duty', v)} />
        <Length name={t('choice.height')} value={d.height} onSet={(v) => ask({ ...d, height: v ?? d.height })} />
        <Choose name={t('choice.wet', { face: 'A' })} value={d.wet[0]} of={wets} onSet={(v) => ask({ ...d, wet: [v, d.wet[1]] })} />
        <Choose name={t('choice.wet', { face: 'B' })} value={d.wet[1]} of={wets} onSet={(v) => ask({ ...d, wet: [d.wet[0], v] })} />
        <Field name={t('need.heat')} value={d.require.u_value ?? ''} hint="0.30" onSet={(v) => require('u_value', v)} />
        <Length name={t('choice.thickness')} value={d.thickness} onSet={(v) => ask({ ...d, thickness: v })} />
        <Length name={t('choice.service')} value={d.service} onSet={(v) => ask({ ...d, service: v })} />
        <label class="ask">
          {t('choice.head')}
          <select value={d.head ?? 'rigid'} onChange={(e) => ask({ ...d, head: e.currentTarget.value })}>
            <option value="rigid">{t('choice.head.rigid')}</option>
            <option value="deflection">{t('choice.head.deflection')}</option>
          </select>
        </label>
      </div>
    </form>
  )
}

function Field({ name, value, hint, onSet }: { name: string; value: string; hint: string; onSet: (v: string) => void }) {
  return (
    <label class="ask">
      {name}
      <input value={value} placeholder={hint} onChange={(e) => onSet(e.currentTarget.value.trim())} />
    </label>
  )
}

function Choose({ name, value, of, onSet }: { name: string; value: string; of: readonly string[]; onSet: (v: string) => void }) {
  return (
    <label class="ask">
      {name}
      <select value={value} onChange={(e) => onSet(e.currentTarget.value)}>
        {of.map((v) => <option value={v}>{v || t('choice.notasked')}</option>)}
      </select>
    </label>
  )
}

function Length({ name, value, onSet }: { name: string; value: number | undefined; onSet: (v: number | undefined) => void }) {
  const [wrong, setWrong] = useState(false)
  const set = (text: string) => {
    const mm = text.trim() === '' ? undefined : readLength(text)
    setWrong(mm === null)
    if (mm !== null) onSet(mm)
  }
  return (
    <label class="ask">
      {name}
      <input value={value ? length(value) : ''} placeholder={t('choice.any')} aria-invalid={wrong} onChange={(e) => set(e.currentTarget.value)} />
    </label>
  )
}

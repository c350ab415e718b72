// Beside the elevation: how the next thing is to be, the one picked in figures, and
// the list of all that is on the wall.

import type { ComponentChildren } from 'preact'
import type { Wall } from '../../../core/plan.ts'
import { lengthUnit, t, word } from '../../../show.ts'
import { Findings } from '../../../shell/findings.tsx'
import { wallLength } from '../../../geometry/body.ts'
import type { Point } from '../../../geometry/vec.ts'
import { LengthField, NumberField, SelectField, choices } from '../../plan/fields.tsx'
import { about, clearOf, face, finishPipe, hangsAt, like, nameOf, path, pick, picked, placeMiddle, remove, store, tool } from './state.ts'
import type { Face, Kind, Ref, Thing } from './things.ts'
import { addStep, allOf, boxKinds, changed, fixingKinds, listOf, plainTop, sameRef, services } from './things.ts'

export function FitPanel({ wall }: { wall: Wall }) {
  const ref = picked.value
  return (
    <aside class="beside fit-side" aria-label={t('fit.panel')}>
      {tool.value !== 'pick' && <New wall={wall} />}
      {ref && <One wall={wall} at={ref} key={`${ref.kind}:${ref.index}`} />}
      <All wall={wall} />
    </aside>
  )
}

function New({ wall }: { wall: Wall }) {
  const set = (c: Partial<typeof like.value>) => (like.value = { ...like.value, ...c })
  const { box, fixing, service } = like.value
  return (
    <section class="fit-part">
      <h3>{t(`fit.new.${tool.value}`)}</h3>
      <p class="quiet">{t(`fit.new.${tool.value}.what`)}</p>
      <div class="entries">
        {tool.value === 'boxes' && <SelectField label={t('fit.kind')} value={box} options={choices('box', boxKinds)} onChange={(v) => v && set({ box: v })} />}
        {tool.value === 'fixings' && <SelectField label={t('fit.kind')} value={fixing} options={choices('fixing', fixingKinds)} onChange={(v) => v && set({ fixing: v })} />}
        {tool.value === 'pipes' && <SelectField label={t('fit.service')} value={service} options={choices('pipe', services)} onChange={(v) => v && set({ service: v })} />}
        <div class="buttons">
          {path.value.length > 1 ? <button onClick={() => finishPipe(wall)}>{t('fit.pipe.done')}</button> : <button onClick={() => placeMiddle(wall)}>{t('fit.add')}</button>}
          {tool.value === 'heights' && <button onClick={() => step(wall)}>{t('fit.step')}</button>}
          {tool.value === 'heights' && wall.heights && <button onClick={() => store('edit.height.plain', wall, plainTop(wall))}>{t('fit.plain')}</button>}
        </div>
      </div>
    </section>
  )
}

function step(wall: Wall): void {
  const made = addStep(wall, clearOf(wall), Math.round(wallLength(wall) / 2), -300)
  store('edit.height.add', wall, made.wall)
  pick(made.ref)
}

function One({ wall, at }: { wall: Wall; at: Ref }) {
  const there = listOf(wall, at.kind)[at.index]
  if (!there) return null
  return (
    <section class="fit-part">
      <h3>{thingName(wall, at)}</h3>
      <Findings of={about(wall, at)} />
      <div class="entries">
        <Fields wall={wall} at={at} />
        <div class="buttons">
          <button class="danger" onClick={() => remove(wall, { kind: at.kind, index: at.index })}>{t('do.remove')}</button>
        </div>
      </div>
    </section>
  )
}

function Fields({ wall, at }: { wall: Wall; at: Ref }) {
  const set = <K extends Kind>(kind: K, change: Partial<Thing<K>>) => store(`edit.${nameOf(kind)}.change`, wall, changed(wall, kind, at.index, change))
  if (at.kind === 'boxes') return <BoxFields of={listOf(wall, 'boxes')[at.index]!} onChange={(c) => set('boxes', c)} />
  if (at.kind === 'fixings') return <FixingFields of={listOf(wall, 'fixings')[at.index]!} onChange={(c) => set('fixings', c)} />
  if (at.kind === 'pipes') return <PipeFields wall={wall} index={at.index} onChange={(c) => set('pipes', c)} />
  const h = listOf(wall, 'heights')[at.index]!
  return (
    <>
      <LengthField label={t('fit.at')} value={h.at} onChange={(v) => v !== undefined && set('heights', { at: v })} />
      <LengthField label={t('fit.height')} value={h.height} onChange={(v) => v && set('heights', { height: v })} />
    </>
  )
}

function FaceField(p: { value: string; onChange: (f: Face) => void }) {
  const change = (v: string | undefined) => {
    if (!v) return
    face.value = v as Face
    p.onChange(v as Face)
  }
  return <SelectField label={t('fit.side')} value={p.value} options={(['a', 'b'] as const).map((f) => [f, t('fit.sideof', { face: f.toUpperCase() })] as const)} onChange={change} />
}

function BoxFields({ of: b, onChange }: { of: Thing<'boxes'>; onChange: (c: Partial<Thing<'boxes'>>) => void }) {
  return (
    <>
      <SelectField label={t('fit.kind')} value={b.kind} options={choices('box', boxKinds)} onChange={(v) => v && onChange({ kind: v })} />
      <FaceField value={b.face} onChange={(f) => onChange({ face: f })} />
      <LengthField label={t('fit.middle')} value={b.at} onChange={(v) => v !== undefined && onChange({ at: v })} />
      <LengthField label={t('fit.height')} value={b.height} onChange={(v) => v !== undefined && onChange({ height: v })} />
      <NumberField label={t('fit.gangs')} value={b.gangs} hint="1" onChange={(v) => onChange({ gangs: v && Math.round(v) } as Partial<Thing<'boxes'>>)} />
    </>
  )
}

function FixingFields({ of: f, onChange }: { of: Thing<'fixings'>; onChange: (c: Partial<Thing<'fixings'>>) => void }) {
  const set = (k: 'width' | 'height' | 'mass' | 'lever') => (v: number | undefined) => onChange({ [k]: v })
  return (
    <>
      <SelectField label={t('fit.kind')} value={f.kind} options={choices('fixing', fixingKinds)} onChange={(v) => v && onChange({ kind: v })} />
      <FaceField value={f.face} onChange={(v) => onChange({ face: v })} />
      <LengthField label={t('fit.at')} value={f.at} onChange={(v) => v !== undefined && onChange({ at: v })} />
      <LengthField label={t('fit.width')} value={f.width} hint="0" onChange={set('width')} />
      <LengthField label={t('fit.height')} value={f.height} hint={lengthUnit(hangsAt({ kind: f.kind }))} onChange={set('height')} />
      <NumberField label={t('fit.mass')} value={f.mass} unit="kg" onChange={set('mass')} />
      <LengthField label={t('fit.lever')} value={f.lever} hint="0" onChange={set('lever')} />
    </>
  )
}

function PipeFields({ wall, index, onChange }: { wall: Wall; index: number; onChange: (c: Partial<Thing<'pipes'>>) => void }) {
  const p = listOf(wall, 'pipes')[index]!
  const put = (i: number, to: Point) => onChange({ path: p.path.map((q, j) => (j === i ? to : q)) })
  const last = p.path.at(-1) ?? [0, 0]
  return (
    <>
      <SelectField label={t('fit.service')} value={p.service} options={choices('pipe', services)} onChange={(v) => v && onChange({ service: v })} />
      <LengthField label={t('fit.diameter')} value={p.diameter} onChange={(v) => v && onChange({ diameter: v })} />
      <ol class="fit-points">
        {p.path.map(([u, z], i) => (
          <li>
            <LengthField label={t('fit.point.at', { n: i + 1 })} value={u} onChange={(v) => v !== undefined && put(i, [v, z])} />
            <LengthField label={t('fit.point.height', { n: i + 1 })} value={z} onChange={(v) => v !== undefined && put(i, [u, v])} />
            {p.path.length > 2 && <button class="plain" aria-label={t('fit.point.remove', { n: i + 1 })} onClick={() => remove(wall, { kind: 'pipes', index, point: i })}>×</button>}
          </li>
        ))}
      </ol>
      <button class="plain" onClick={() => onChange({ path: [...p.path, [last[0], last[1] + 500]] })}>{t('fit.point.add')}</button>
    </>
  )
}

function thingName(wall: Wall, { kind, index }: Ref): string {
  if (kind === 'boxes') return word('box', listOf(wall, kind)[index]?.kind ?? 'other')
  if (kind === 'fixings') return word('fixing', listOf(wall, kind)[index]?.kind ?? '')
  if (kind === 'pipes') return word('pipe', listOf(wall, kind)[index]?.service ?? 'water')
  return t('fit.top', { n: index + 1 })
}

function where(wall: Wall, { kind, index }: Ref): string {
  if (kind === 'pipes') return t('fit.where.pipe', { diameter: lengthUnit(listOf(wall, kind)[index]?.diameter ?? 0) })
  const x = (listOf(wall, kind) as { at: number; height?: number; face?: string; kind?: string }[])[index]
  const height = lengthUnit(x?.height ?? (x?.kind ? hangsAt({ kind: x.kind }) : 0))
  return x?.face ? t('fit.where', { face: x.face.toUpperCase(), at: lengthUnit(x.at), height }) : t('fit.where.top', { at: lengthUnit(x?.at ?? 0), height })
}

function All({ wall }: { wall: Wall }) {
  const all = allOf(wall)
  return (
    <section class="fit-part">
      <h3>{t('fit.all', { n: all.length })}</h3>
      {all.length === 0 && <p class="quiet">{t('fit.none')}</p>}
      <ul class="rows">
        {all.map((r) => (
          <li>
            <Item wall={wall} at={r}>{thingName(wall, r)}</Item>
            <span class="quiet">{where(wall, r)}</span>
          </li>
        ))}
      </ul>
    </section>
  )
}

function Item({ wall, at, children }: { wall: Wall; at: Ref; children: ComponentChildren }) {
  const wrong = about(wall, at).some((f) => f.severity === 'error' || f.severity === 'warning')
  const on = (listOf(wall, at.kind) as { face?: string }[])[at.index]?.face
  const take = () => {
    pick(at)
    if (on) face.value = on as Face
  }
  return (
    <button class="plain" aria-pressed={sameRef(at, picked.value)} onClick={take}>
      {wrong && <span class="error" aria-label={t('finding.error')}>■ </span>}
      {children}
    </button>
  )
}

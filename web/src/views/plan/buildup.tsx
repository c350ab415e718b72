// Choosing what walls are made of: one of the plan's build-ups, or a new one put
// together from products of the catalogue.

import { useState } from 'preact/hooks'
import type { BuildUp, Wall } from '../../core/plan.ts'
import { changeWalls } from '../../editor/commands.ts'
import { run, say } from '../../editor/session.ts'
import { clean } from '../../geometry/walls.ts'
import { Dialog } from '../../shell/dialog.tsx'
import { catalogue, plan } from '../../state.ts'
import { t } from '../../show.ts'
import { LengthField, SelectField, TextField, choices, shared } from './fields.tsx'

const frames = ['single', 'twin_independent', 'twin_braced', 'lining', 'furring', 'shaft']

export function BuildUpField({ walls }: { walls: readonly Wall[] }) {
  const [making, setMaking] = useState(false)
  const p = plan.value
  if (!p) return null
  const use = (id: string | undefined) => run(changeWalls(p, say, walls.map((w) => w.id), (w) => ({ ...w, buildup: id }) as Wall))
  const now = shared(walls, (w) => w.buildup)
  const one = p.buildups?.find((b) => b.id === now)
  return (
    <>
      <SelectField label={t('walls.buildup')} value={now} none={t('walls.buildup.none')} options={buildUpOptions()} onChange={use} />
      {one && <p class="quiet made-of">{madeOf(one)}</p>}
      <button class="plain" onClick={() => setMaking(true)}>{t('buildup.new')}</button>
      {making && (
        <BuildUpDialog
          like={one}
          onClose={() => setMaking(false)}
          onMade={(b) => {
            const made = changeWalls(p, say, walls.map((w) => w.id), (w) => ({ ...w, buildup: b.id }))
            run({ label: say('edit.buildup.add', { id: b.id }), changes: [{ kind: 'buildups', id: b.id, value: b }, ...made.changes] })
            setMaking(false)
          }}
        />
      )}
    </>
  )
}

export const buildUpOptions = () => (plan.value?.buildups ?? []).map((b) => [b.id, b.name ? `${b.id}: ${b.name}` : b.id] as const)

export function madeOf(b: BuildUp): string {
  const face = (ids: readonly string[] | undefined) => (ids && ids.length > 0 ? ids.join(' + ') : '–')
  const fill = (b.insulation ?? []).map((i) => i.product).join(' + ')
  return [b.frame.stud, `A ${face(b.face_a)}`, b.face_b && `B ${face(b.face_b)}`, fill].filter(Boolean).join(' · ')
}

export function BuildUpDialog(p: { like?: BuildUp | undefined; onClose: () => void; onMade: (b: BuildUp) => void }) {
  const [b, setB] = useState<BuildUp>(p.like ?? { id: '', frame: { kind: 'single', stud: 'CW75' }, face_a: ['GKB-12.5', 'GKB-12.5'], insulation: [{ product: 'MW-60' }] })
  const [id, setId] = useState(freeId(p.like?.id ?? 'W75'))
  const set = (c: Partial<BuildUp>) => setB({ ...b, ...c })
  const boards = catalogue.value?.boards?.map((x) => x.id) ?? []
  const studs = catalogue.value?.profiles?.filter((x) => !x.kind || /stud|channel/.test(x.kind)).map((x) => x.id) ?? []
  const fills = catalogue.value?.insulation?.map((x) => x.id) ?? []
  const list = (text: string | undefined) => text?.split(/[\s,+]+/).filter(Boolean)
  const takenId = plan.value?.buildups?.some((x) => x.id === id)
  const done = () => p.onMade(clean<BuildUp>({ ...b, id, name: b.name === p.like?.name ? undefined : b.name }))
  return (
    <Dialog title={t('buildup.new')} onClose={p.onClose}>
      <div class="entries">
        <TextField label={t('buildup.id')} value={id} onChange={(v) => setId(v ?? '')} />
        <TextField label={t('buildup.name')} value={b.name} onChange={(v) => set({ name: v ?? '' })} />
        <SelectField label={t('buildup.frame')} value={b.frame.kind} options={choices('frame', frames)} onChange={(v) => set({ frame: { ...b.frame, kind: v ?? 'single' } })} />
        <TextField label={t('buildup.stud')} value={b.frame.stud} list={studs} onChange={(v) => set({ frame: { ...b.frame, stud: v ?? '' } })} />
        <LengthField label={t('buildup.spacing')} value={b.frame.spacing} hint={t('field.practice')} onChange={(v) => set({ frame: clean<BuildUp['frame']>({ ...b.frame, spacing: v }) })} />
        <LengthField label={t('buildup.gap')} value={b.frame.gap} hint={t('field.practice')} onChange={(v) => set({ frame: clean<BuildUp['frame']>({ ...b.frame, gap: v }) })} />
        <TextField label={t('buildup.face_a')} value={b.face_a?.join(' + ')} list={boards} onChange={(v) => set({ face_a: list(v) ?? [] })} />
        <TextField label={t('buildup.face_b')} value={b.face_b?.join(' + ')} hint={t('buildup.face_b.as')} list={boards} onChange={(v) => set({ face_b: list(v) ?? [] })} />
        <TextField label={t('buildup.fill')} value={b.insulation?.map((i) => i.product).join(' + ')} list={fills} onChange={(v) => set({ insulation: (list(v) ?? []).map((product) => ({ product })) })} />
        <p class="quiet">{t('buildup.boards')}</p>
        {takenId && <p class="error" role="alert">{t('buildup.taken', { id })}</p>}
      </div>
      <div class="buttons">
        <button class="main" disabled={id === '' || takenId} onClick={done}>{t('buildup.make')}</button>
        <button onClick={p.onClose}>{t('shell.cancel')}</button>
      </div>
    </Dialog>
  )
}

function freeId(like: string): string {
  const used = new Set(plan.value?.buildups?.map((b) => b.id))
  if (!used.has(like)) return like
  for (let n = 2; ; n++) if (!used.has(`${like}-${n}`)) return `${like}-${n}`
}

// The side panel of one wall or several: what they are made of, their heights and
// ends, what is asked of them, what is wrong, and what can be done with them.

import { told } from '../../editor/look.ts'
import { changeWalls, demand, putWall, renameWall, wallsOf } from '../../editor/commands.ts'
import { choose, choosePicked, run, say } from '../../editor/session.ts'
import type { Demands, Wall } from '../../core/plan.ts'
import { wallLength } from '../../geometry/body.ts'
import { lengthened } from '../../geometry/walls.ts'
import { Findings } from '../../shell/findings.tsx'
import { briefs, findings, plan, project, selection } from '../../state.ts'
import { href, route } from '../../route.ts'
import { lengthUnit, t } from '../../show.ts'
import { openingName } from './names.ts'
import { BuildUpField } from './buildup.tsx'
import { DemandFields } from './demands.tsx'
import type { DemandValues } from './demands.tsx'
import { LengthField, SelectField, TextField, choices, shared } from './fields.tsx'
import { Curve } from './curve.tsx'
import { Actions } from './actions.tsx'
import { places } from '../registry.ts'

export function WallPanel() {
  const p = plan.value
  if (!p) return null
  const walls = wallsOf(p, selection.value)
  const one = walls.length === 1 ? walls[0] : undefined
  if (walls.length === 0) return null
  return (
    <>
      <header class="side-head">
        <h2>{one ? t('plan.wall', { id: one.id }) : t('plan.walls.n', { n: walls.length })}</h2>
        {one && <WallLinks id={one.id} />}
      </header>
      <State walls={walls} />
      <Section title={t('plan.section.made')}>
        <BuildUpField walls={walls} />
        {one && <LengthField label={t(one.via ? 'walls.length.along' : 'walls.length')} value={wallLength(one)} onChange={(v) => v && setLength(one, v)} />}
        {one && <Curve wall={one} />}
        <Heights walls={walls} />
      </Section>
      <Section title={t('plan.section.asked')}>
        <DemandFields of={demandsOf(walls)} onChange={(key, v) => ask(walls, { [key]: v ?? '' })} />
      </Section>
      {one && <Openings wall={one} />}
      <Section title={t('plan.section.ends')} shut>
        <Ends walls={walls} one={one} />
      </Section>
      <Section title={t('plan.section.do')}>
        <Actions walls={walls} />
      </Section>
    </>
  )
}

export function Section(p: { title: string; shut?: boolean; children: preact.ComponentChildren }) {
  return (
    <details class="section" open={!p.shut}>
      <summary>{p.title}</summary>
      <div class="entries">{p.children}</div>
    </details>
  )
}

// The wall's own place, and the choice of what it could be made of.
function WallLinks({ id }: { id: string }) {
  const p = project.value
  if (!p || !places.some((x) => x.id === 'wall')) return null
  const { level } = route.value.query
  return (
    <span class="links">
      <a href={href(p.id, 'wall', { level, wall: id })}>{t('plan.look')}</a>
      <a href={href(p.id, 'wall', { level, wall: id, show: 'fit' })}>{t('wall.view.fit')}</a>
      <a href={href(p.id, 'wall', { level, wall: id, show: 'choice' })}>{t('plan.choose')}</a>
    </span>
  )
}

// Where the walls stand against what is asked, and the findings about them.
function State({ walls }: { walls: readonly Wall[] }) {
  const ids = new Set(walls.map((w) => w.id))
  const about = findings.value.filter((f) => ids.has(f.object ?? '') || ids.has(f.other ?? '') || walls.some((w) => w.openings?.some((o, i) => f.object === openingName(w.id, o, i))))
  const only = walls.length === 1 && walls[0] ? briefs.value.get(walls[0].id) : undefined
  const needs = only?.status.needs?.filter((n) => n.verdict === 'fails' || n.verdict === 'not proven') ?? []
  if (about.length === 0 && needs.length === 0) return null
  return (
    <div class="wall-state" tabIndex={0} role="region" aria-label={t('plan.findings')}>
      {needs.map((n) => (
        <p class={n.verdict === 'fails' ? 'state-not_met' : 'state-not_proven'}>
          <b>{t(n.verdict === 'fails' ? 'plan.state.not_met' : 'plan.state.not_proven')}</b> {told(n)}
        </p>
      ))}
      <Findings of={about} />
    </div>
  )
}

function change(walls: readonly Wall[], with_: Partial<Wall>): void {
  if (plan.value) run(changeWalls(plan.value, say, walls.map((w) => w.id), (w) => ({ ...w, ...with_ })))
}

function ask(walls: readonly Wall[], wanted: Demands): void {
  if (plan.value) run(demand(plan.value, say, walls.map((w) => w.id), wanted))
}

function setLength(w: Wall, to: number): void {
  run({ label: say('edit.wall.change', { n: 1, id: w.id }), changes: [putWall(lengthened(w, to))] })
}

function demandsOf(walls: readonly Wall[]): DemandValues {
  const keys = ['fire', 'sound', 'duty', 'wet', 'pressure', 'u_value'] as const
  return Object.fromEntries(keys.map((k) => [k, shared(walls, (w) => w.require?.[k])]))
}

function Heights({ walls }: { walls: readonly Wall[] }) {
  const clear = plan.value?.levels.find((l) => l.id === walls[0]?.level)?.clear_height
  if (walls.some((w) => w.heights)) return <p class="quiet">{t('walls.heights')}</p>
  return (
    <>
      <LengthField label={t('walls.height')} value={shared(walls, (w) => w.height)} hint={clear ? lengthUnit(clear) : ''} onChange={(v) => change(walls, { height: v } as Partial<Wall>)} />
      <LengthField label={t('walls.base')} value={shared(walls, (w) => w.base)} hint="0" onChange={(v) => change(walls, { base: v } as Partial<Wall>)} />
      <SelectField label={t('walls.head')} value={shared(walls, (w) => w.head)} none={t('field.auto')} options={choices('walls.head', ['rigid', 'deflection', 'free'])} onChange={(v) => change(walls, { head: v } as Partial<Wall>)} />
    </>
  )
}

function Ends({ walls, one }: { walls: readonly Wall[]; one: Wall | undefined }) {
  const ends = choices('walls.end', ['free', 'structure'])
  return (
    <>
      {one && <TextField label={t('walls.id')} value={one.id} onChange={(v) => v && plan.value && run(renameWall(plan.value, say, one.id, v)) && choose([v])} />}
      <SelectField label={t('walls.start')} value={shared(walls, (w) => w.start)} none={t('field.auto')} options={ends} onChange={(v) => change(walls, { start: v } as Partial<Wall>)} />
      <SelectField label={t('walls.finish')} value={shared(walls, (w) => w.end)} none={t('field.auto')} options={ends} onChange={(v) => change(walls, { end: v } as Partial<Wall>)} />
      <SelectField label={t('walls.justify')} value={shared(walls, (w) => w.justify)} none={t('walls.justify.centre')} options={choices('walls.justify', ['face_a', 'face_b'])} onChange={(v) => change(walls, { justify: v } as Partial<Wall>)} />
      <SelectField label={t('walls.stands')} value={shared(walls, (w) => w.stands)} none={t('walls.stands.floor')} options={choices('walls.stands', ['slab'])} onChange={(v) => change(walls, { stands: v } as Partial<Wall>)} />
      <TextField label={t('walls.zone')} value={shared(walls, (w) => w.zone)} onChange={(v) => change(walls, { zone: v } as Partial<Wall>)} />
      <TextField label={t('walls.note')} value={shared(walls, (w) => w.note)} onChange={(v) => change(walls, { note: v } as Partial<Wall>)} />
    </>
  )
}

function Openings({ wall }: { wall: Wall }) {
  const all = wall.openings ?? []
  if (all.length === 0) return null
  return (
    <Section title={t('plan.section.openings', { n: all.length })}>
      <ul class="rows">
        {all.map((o, index) => (
          <li>
            <button class="plain" onClick={() => choosePicked({ kind: 'opening', wall: wall.id, index })}>
              {o.id ?? t(`opening.${o.kind}`)}
            </button>
            <span class="quiet">{t('opening.at', { kind: t(`opening.${o.kind}`), at: lengthUnit(o.at), width: lengthUnit(o.width) })}</span>
          </li>
        ))}
      </ul>
    </Section>
  )
}

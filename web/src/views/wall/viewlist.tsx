// What there is to see of a wall, as a list of links: its frame, its layers, its
// sections, the wall in space, its proof, and what it could be made of.

import { href, route } from '../../route.ts'
import { project } from '../../state.ts'
import { number, t, word } from '../../show.ts'
import type { View } from './types.ts'

export function viewName(v: View): string {
  if (v.kind === 'frame') return v.face ? t('wall.view.frameat', { face: v.face.toUpperCase() }) : t('wall.view.frame')
  if (v.kind === 'boards') return t('wall.layer.face', { face: (v.face ?? '').toUpperCase(), n: number(v.layer ?? 0) })
  const what = word('section', v.what ?? '')
  return v.where?.length ? `${what}: ${shortly(v.where)}` : what
}

function shortly(list: readonly string[]): string {
  return list.length > 3 ? `${list.slice(0, 2).join(', ')} +${list.length - 2}` : list.join(', ')
}

export function ViewList({ views, show }: { views: readonly View[]; show: string }) {
  return (
    <nav class="view-list" aria-label={t('wall.views')}>
      <h2>{t('wall.views.elevations')}</h2>
      {views.filter((v) => v.kind !== 'section').map((v) => <Item id={v.id} name={viewName(v)} show={show} />)}
      <Item id="solid" name={t('wall.view.solid')} show={show} />
      <h2>{t('wall.views.wall')}</h2>
      <Item id="fit" name={t('wall.view.fit')} show={show} />
      <Item id="proof" name={t('wall.view.proof')} show={show} />
      <Item id="choice" name={t('wall.view.choice')} show={show} />
      <h2>{t('wall.views.sections')}</h2>
      {views.filter((v) => v.kind === 'section').map((v) => <Item id={v.id} name={viewName(v)} show={show} />)}
    </nav>
  )
}

function Item({ id, name, show }: { id: string; name: string; show: string }) {
  const r = route.value
  return (
    <a href={href(project.value?.id ?? null, 'wall', { ...r.query, show: id })} aria-current={show === id ? 'true' : undefined}>
      {name}
    </a>
  )
}

// The place "Material": quantities, what is ordered, how it is cut, what it costs.

import type { ComponentType } from 'preact'
import { href, route } from '../../route.ts'
import { project } from '../../state.ts'
import { t } from '../../show.ts'
import { CuttingView } from './cutting.tsx'
import { OrderView } from './order.tsx'
import { PriceView } from './price.tsx'
import { TakeoffView } from './takeoff.tsx'

const sections: Record<string, ComponentType> = { takeoff: TakeoffView, order: OrderView, cutting: CuttingView, price: PriceView }

export default function MaterialPlace() {
  const q = route.value.query
  const show = q.of && q.of in sections ? q.of : 'takeoff'
  const Section = sections[show] ?? TakeoffView
  return (
    <div class="material-place">
      <nav class="sections" aria-label={t('material.sections')}>
        {Object.keys(sections).map((id) => (
          <a href={href(project.value?.id ?? null, 'material', { level: q.level, wall: q.wall, of: id })} aria-current={id === show ? 'true' : undefined}>
            {t(`material.${id}`)}
          </a>
        ))}
      </nav>
      <Section />
    </div>
  )
}

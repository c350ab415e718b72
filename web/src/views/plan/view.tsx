import { plan } from '../../state.ts'

export default function PlanView() {
  return <p>{plan.value?.walls.length}</p>
}

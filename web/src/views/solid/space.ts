// The view in space: camera, light, what is cut away, and which part is under the
// pointer. Draws only when something changes.

import {
  AmbientLight, Box3, DirectionalLight, HemisphereLight, PerspectiveCamera, Plane, Raycaster, Scene, Vector2, Vector3, WebGLRenderer,
} from 'three'
import type { Mesh, Object3D } from 'three'
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js'
import { alone, build } from './meshes.ts'
import type { Built, Hues } from './meshes.ts'
import type { Piece } from './model.ts'

export class Space {
  private renderer: WebGLRenderer
  private scene = new Scene()
  private camera = new PerspectiveCamera(40, 1, 0.02, 2000)
  private controls: OrbitControls
  private built: Built | null = null
  private marked: Mesh | null = null
  private due = false
  private ceiling = new Plane(new Vector3(0, -1, 0), 1e6)
  private box = new Box3()
  private from: readonly [x: number, y: number] = [-0.45, -0.75]

  // Throws where the browser has no WebGL.
  constructor(private pane: HTMLElement) {
    this.renderer = new WebGLRenderer({ antialias: true, alpha: true })
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2))
    this.renderer.clippingPlanes = [this.ceiling]
    pane.append(this.renderer.domElement)
    this.controls = new OrbitControls(this.camera, this.renderer.domElement)
    this.controls.addEventListener('change', () => this.draw())
    this.scene.add(new HemisphereLight(0xffffff, 0x8a8578, 1.6), new AmbientLight(0xffffff, 0.5))
    const sun = new DirectionalLight(0xffffff, 1.7)
    sun.position.set(4, 9, 6)
    this.scene.add(sun)
  }

  // Shows other pieces; the camera stays unless it is told from where to look at them.
  show(list: readonly Piece[], hues: Hues, fit: readonly [x: number, y: number] | null): void {
    for (const g of this.built?.layers.values() ?? []) discard(this.scene, g)
    this.mark(null, '')
    this.built = build(list, hues)
    for (const g of this.built.layers.values()) this.scene.add(g)
    this.box.setFromObject(this.scene)
    if (fit) this.fit(fit)
    this.draw()
  }

  // Leaves out layers, and all above a height in millimetres over the lowest floor.
  cut(hidden: ReadonlySet<string>, height: number | null): void {
    for (const [name, g] of this.built?.layers ?? []) g.visible = !hidden.has(name)
    this.ceiling.constant = height === null ? 1e6 : this.box.min.y + height / 1000
    this.draw()
  }

  mark(piece: Piece | null, hue: string): void {
    if (this.marked) discard(this.scene, this.marked)
    this.marked = piece ? alone(piece, hue) : null
    if (this.marked) this.scene.add(this.marked)
    this.draw()
  }

  // The piece under a point of the pane, given from its upper left corner.
  pieceAt(x: number, y: number): Piece | null {
    const { clientWidth: w, clientHeight: h } = this.pane
    const ray = new Raycaster()
    ray.setFromCamera(new Vector2((x / w) * 2 - 1, 1 - (y / h) * 2), this.camera)
    const seen = [...(this.built?.layers.values() ?? [])].filter((g) => g.visible)
    for (const hit of ray.intersectObjects(seen)) {
      if (this.ceiling.distanceToPoint(hit.point) < 0) continue
      const p = this.built?.pieceAt(hit.object, hit)
      if (p) return p
    }
    return null
  }

  // Looks at all of it from a direction in plan, from a little above.
  fit(from: readonly [x: number, y: number] = this.from): void {
    this.from = from
    const size = this.box.getSize(new Vector3()).length() || 1
    const narrow = Math.min(1, this.camera.aspect)
    const far = (size / 2 / Math.sin(((this.camera.fov / 2) * Math.PI) / 180) / narrow) * 0.8
    const length = Math.hypot(...from) || 1
    this.controls.target.copy(this.box.getCenter(new Vector3()))
    this.camera.position.copy(this.controls.target).add(new Vector3(from[0] / length, 0.55, -from[1] / length).normalize().multiplyScalar(far))
    this.camera.near = size / 500
    this.camera.far = size * 20
    this.camera.updateProjectionMatrix()
    this.controls.update()
    this.draw()
  }

  // Turns the camera round what is looked at by angles in radians, or comes nearer by
  // a factor.
  turn(round: number, up: number): void {
    const off = this.camera.position.clone().sub(this.controls.target)
    const r = off.length()
    const polar = Math.min(Math.max(Math.acos(off.y / r) - up, 0.05), Math.PI - 0.05)
    const azimuth = Math.atan2(off.x, off.z) + round
    off.setFromSphericalCoords(r, polar, azimuth)
    this.camera.position.copy(this.controls.target).add(off)
    this.controls.update()
    this.draw()
  }

  nearer(factor: number): void {
    const off = this.camera.position.clone().sub(this.controls.target).divideScalar(factor)
    this.camera.position.copy(this.controls.target).add(off)
    this.controls.update()
    this.draw()
  }

  // Moves what is looked at, as parts of the distance to it.
  slide(right: number, up: number): void {
    const far = this.camera.position.distanceTo(this.controls.target)
    const by = new Vector3(right, up, 0).applyQuaternion(this.camera.quaternion).multiplyScalar(far)
    this.camera.position.add(by)
    this.controls.target.add(by)
    this.controls.update()
    this.draw()
  }

  resize(): void {
    const { clientWidth: w, clientHeight: h } = this.pane
    if (w === 0 || h === 0) return
    this.renderer.setSize(w, h)
    this.camera.aspect = w / h
    this.camera.updateProjectionMatrix()
    this.draw()
  }

  private draw(): void {
    if (this.due) return
    this.due = true
    requestAnimationFrame(() => {
      this.due = false
      this.renderer.render(this.scene, this.camera)
    })
  }

  end(): void {
    this.controls.dispose()
    this.renderer.dispose()
    this.renderer.domElement.remove()
  }
}

function discard(from: Scene, o: Object3D): void {
  from.remove(o)
  o.traverse((x) => (x as Mesh).geometry?.dispose())
}

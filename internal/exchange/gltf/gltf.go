// Package gltf writes laid-out walls as a three-dimensional scene: glTF 2.0 in its
// binary form (GLB), metres, y up, ISO/IEC 12113. It takes
// walls with their parts and gives one node a part under a node a wall under a node a
// level; each part carries its mark, product and cut length as extras. Profiles are
// shown as the space that they take up, without their flanges and lips.
package gltf

import (
	"encoding/binary"
	"encoding/json"
	"io"
	"math"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/parts"
	"nogging/internal/plan"
)

// Write writes the walls of a plan as GLB. Coordinates are taken from the middle of
// the walls, so that buildings far from their project's zero lose nothing; the asset's
// extras give the zero in metres.
func Write(out io.Writer, p *plan.Plan, walls []*layout.Wall, cat *catalogue.Catalogue, pr *catalogue.Practice) error {
	b := &builder{cat: cat, zero: zeroOf(walls), meshes: map[string]int{}, materials: map[string]int{}}
	b.doc.Asset = asset{Version: "2.0", Generator: "nogging", Extras: map[string]any{"zero_m": []float64{b.zero.X.Metres(), b.zero.Y.Metres()}, "project": p.Project.Name}}
	// z up becomes y up by a quarter turn about x.
	root := b.node(node{Name: p.Project.Name, Rotation: []float64{-math.Sqrt2 / 2, 0, 0, math.Sqrt2 / 2}})
	for i := range p.Levels {
		level := &p.Levels[i]
		var on []int
		for _, w := range walls {
			if w.Level == level.ID {
				on = append(on, b.wall(w, pr))
			}
		}
		if len(on) > 0 {
			n := b.node(node{Name: level.ID, Translation: []float64{0, 0, level.Elevation.Metres()}, Children: on})
			b.doc.Nodes[root].Children = append(b.doc.Nodes[root].Children, n)
		}
	}
	b.doc.Scenes = []scene{{Nodes: []int{root}}}
	return b.write(out)
}

// zeroOf is the middle of the walls, in whole metres.
func zeroOf(walls []*layout.Wall) geom.Point {
	var corners []geom.Point
	for _, w := range walls {
		corners = append(corners, w.Frame.Origin)
	}
	if len(corners) == 0 {
		return geom.Point{}
	}
	r := geom.Bounds(corners...)
	const step = 1000 * 1000 * 1000 // nm in a metre
	return geom.Pt(((r.Min.X + r.Max.X) / 2).Round(step), ((r.Min.Y + r.Max.Y) / 2).Round(step))
}

// The document, as far as it is written.
type (
	document struct {
		Asset       asset        `json:"asset"`
		Scene       int          `json:"scene"`
		Scenes      []scene      `json:"scenes"`
		Nodes       []node       `json:"nodes"`
		Meshes      []mesh       `json:"meshes,omitempty"`
		Materials   []material   `json:"materials,omitempty"`
		Accessors   []accessor   `json:"accessors,omitempty"`
		BufferViews []bufferView `json:"bufferViews,omitempty"`
		Buffers     []buffer     `json:"buffers,omitempty"`
	}
	asset struct {
		Version   string         `json:"version"`
		Generator string         `json:"generator"`
		Extras    map[string]any `json:"extras,omitempty"`
	}
	scene struct {
		Nodes []int `json:"nodes"`
	}
	node struct {
		Name        string         `json:"name,omitempty"`
		Translation []float64      `json:"translation,omitempty"`
		Rotation    []float64      `json:"rotation,omitempty"`
		Mesh        *int           `json:"mesh,omitempty"`
		Children    []int          `json:"children,omitempty"`
		Extras      map[string]any `json:"extras,omitempty"`
	}
	mesh struct {
		Primitives []primitive `json:"primitives"`
	}
	primitive struct {
		Attributes map[string]int `json:"attributes"`
		Indices    int            `json:"indices"`
		Material   int            `json:"material"`
	}
	material struct {
		Name        string `json:"name"`
		Surface     pbr    `json:"pbrMetallicRoughness"`
		DoubleSided bool   `json:"doubleSided"`
	}
	pbr struct {
		Colour    [4]float64 `json:"baseColorFactor"`
		Metal     float64    `json:"metallicFactor"`
		Roughness float64    `json:"roughnessFactor"`
	}
	accessor struct {
		View  int       `json:"bufferView"`
		Type  int       `json:"componentType"`
		Count int       `json:"count"`
		Shape string    `json:"type"`
		Min   []float64 `json:"min,omitempty"`
		Max   []float64 `json:"max,omitempty"`
	}
	bufferView struct {
		Buffer int `json:"buffer"`
		Offset int `json:"byteOffset"`
		Length int `json:"byteLength"`
		Target int `json:"target"`
	}
	buffer struct {
		Length int `json:"byteLength"`
	}
)

// builder gathers a document with its buffer. Parts of one shape share a mesh.
type builder struct {
	doc       document
	cat       *catalogue.Catalogue
	zero      geom.Point
	data      []byte
	meshes    map[string]int
	materials map[string]int
}

func (b *builder) node(n node) int {
	b.doc.Nodes = append(b.doc.Nodes, n)
	return len(b.doc.Nodes) - 1
}

// wall adds a wall with its parts. Parts of straight walls stand in the wall's own
// coordinates; those of curved walls are bent round its axis.
func (b *builder) wall(w *layout.Wall, pr *catalogue.Practice) int {
	n := node{Name: w.ID, Extras: map[string]any{"wall": w.ID, "build_up": w.BuildUp}}
	var curve *geom.Arc
	if w.Curve != nil {
		curve = &w.Curve.Axis
	} else {
		o := w.Frame.Origin.Sub(b.zero)
		half := math.Atan2(w.Frame.Dir.Y, w.Frame.Dir.X) / 2
		n.Translation = []float64{o.X.Metres(), o.Y.Metres(), 0}
		n.Rotation = []float64{0, 0, math.Sin(half), math.Cos(half)}
	}
	list := parts.Of(w, b.cat, pr)
	for i := range list {
		if p := &list[i]; p.Solid != nil {
			n.Children = append(n.Children, b.part(p, curve))
		}
	}
	return b.node(n)
}

func (b *builder) part(p *parts.Part, curve *geom.Arc) int {
	n := node{Name: p.ID, Extras: map[string]any{"layer": p.Layer, "what": p.What, "product": p.Product}}
	if p.Cut > 0 {
		n.Extras["cut_mm"] = p.Cut.MM()
	}
	if p.Count > 1 {
		n.Extras["count"] = p.Count
	}
	m := p.Solid.Mesh()
	if curve != nil {
		m = p.Solid.Bent(*curve, b.zero)
	}
	if len(m.Faces) == 0 {
		return b.node(n) // a part without extent is named, not shown
	}
	n.Translation = lowest(m)
	s := single(m, n.Translation)
	mesh := b.mesh(s, b.material(p))
	n.Mesh = &mesh
	return b.node(n)
}

// mesh adds a shape of a material, or finds one that is the same.
func (b *builder) mesh(s shape, of int) int {
	points, faces := s.bytes()
	key := string(points) + string(faces) + string(rune(of))
	if n, ok := b.meshes[key]; ok {
		return n
	}
	low, high := s.bounds()
	position := b.accessor(points, 34962, accessor{Type: 5126, Count: len(s.points), Shape: "VEC3", Min: low, Max: high})
	indices := b.accessor(faces, 34963, accessor{Type: 5125, Count: len(s.faces), Shape: "SCALAR"})
	b.doc.Meshes = append(b.doc.Meshes, mesh{[]primitive{{map[string]int{"POSITION": position}, indices, of}}})
	b.meshes[key] = len(b.doc.Meshes) - 1
	return len(b.doc.Meshes) - 1
}

func (b *builder) accessor(data []byte, target int, a accessor) int {
	b.doc.BufferViews = append(b.doc.BufferViews, bufferView{0, len(b.data), len(data), target})
	b.data = append(b.data, data...)
	a.View = len(b.doc.BufferViews) - 1
	b.doc.Accessors = append(b.doc.Accessors, a)
	return len(b.doc.Accessors) - 1
}

// looks are colour, metal and roughness by the kind of part.
var looks = map[parts.Kind]pbr{
	parts.Steel:   {[4]float64{0.62, 0.65, 0.68, 1}, 0.8, 0.45},
	parts.Bracket: {[4]float64{0.5, 0.52, 0.56, 1}, 0.8, 0.5},
	parts.Board:   {[4]float64{0.88, 0.86, 0.8, 1}, 0, 0.9},
	parts.Fill:    {[4]float64{0.83, 0.74, 0.45, 1}, 0, 1},
}

func (b *builder) material(p *parts.Part) int {
	name := p.Name
	if name == "" {
		name = string(p.Kind)
	}
	if n, ok := b.materials[name]; ok {
		return n
	}
	look, ok := looks[p.Kind]
	if !ok {
		look = pbr{[4]float64{0.7, 0.7, 0.7, 1}, 0, 0.9}
	}
	b.doc.Materials = append(b.doc.Materials, material{name, look, true})
	b.materials[name] = len(b.doc.Materials) - 1
	return len(b.doc.Materials) - 1
}

// write writes the header and the two chunks of a GLB, each padded to four bytes.
func (b *builder) write(out io.Writer) error {
	if len(b.data) > 0 {
		b.doc.Buffers = []buffer{{len(b.data)}}
	}
	text, err := json.Marshal(b.doc)
	if err != nil {
		return err
	}
	for len(text)%4 > 0 {
		text = append(text, ' ')
	}
	const head, chunk = 12, 8
	size := head + chunk + len(text)
	if len(b.data) > 0 {
		size += chunk + len(b.data)
	}
	h := binary.LittleEndian.AppendUint32([]byte("glTF"), 2)
	h = binary.LittleEndian.AppendUint32(h, uint32(size))
	h = binary.LittleEndian.AppendUint32(h, uint32(len(text)))
	h = append(append(h, "JSON"...), text...)
	if len(b.data) > 0 { // floats and 32-bit indices: whole words already
		h = binary.LittleEndian.AppendUint32(h, uint32(len(b.data)))
		h = append(append(h, "BIN\x00"...), b.data...)
	}
	_, err = out.Write(h)
	return err
}

package ifc

import (
	"strings"

	"nogging/internal/exchange/ifc/step"
)

// layer is one layer of a wall, in the order of the file.
type layer struct {
	name      string  // of the material
	words     string  // all that is said of it, in lower case
	thickness float64 // mm
}

// makeup is what the file says a wall is made of.
type makeup struct {
	name   string  // of the layer set, or of the only material
	words  string  // names of materials that are not layers, in lower case
	layers []layer // without those of no thickness
	total  float64 // mm

	usage    bool // whether the next two say where the layers lie
	positive bool // towards local +y
	offset   float64
}

// makeup finds the material of a wall: its own, or that of its type where its
// own has no layers.
func (r *reader) makeup(id step.ID) makeup {
	own := r.material(r.rel.material[id])
	if len(own.layers) > 0 {
		return own
	}
	if of := r.material(r.rel.material[r.rel.typeOf[id]]); len(of.layers) > 0 || own.words == "" {
		return of
	}
	return own
}

// material reads any IfcMaterialSelect.
func (r *reader) material(id step.ID) makeup {
	args := r.file.Args(id)
	var m makeup
	switch r.file.Type(id) {
	case "IFCMATERIALLAYERSETUSAGE":
		set, _ := args.At(0).Ref()
		m = r.layerSet(set)
		m.usage = args.At(1).Enum() == "AXIS2"
		m.positive = args.At(2).Enum() != "NEGATIVE"
		offset, _ := args.At(3).Real()
		m.offset = offset * r.shape.Units().Length
	case "IFCMATERIALLAYERSET":
		m = r.layerSet(id)
	case "IFCMATERIALLAYER", "IFCMATERIALLAYERWITHOFFSETS":
		m.add(r.layer(id))
	case "IFCMATERIAL":
		m.name = args.At(0).Text()
		m.words = lower(m.name, args.At(2).Text())
	case "IFCMATERIALLIST":
		m.words = r.materialNames(args.At(0).Refs(), 0)
	case "IFCMATERIALCONSTITUENTSET":
		m.words = r.materialNames(args.At(2).Refs(), 2)
	}
	return m
}

// mostLayers is how many layers of a set are read.
const mostLayers = 50

// layerSet reads an IfcMaterialLayerSet, once however many walls have it.
func (r *reader) layerSet(id step.ID) makeup {
	if m, ok := r.sets[id]; ok {
		return m
	}
	args := r.file.Args(id)
	m := makeup{name: args.At(1).Text()}
	all := args.At(0).Refs()
	for _, l := range all[:min(len(all), mostLayers)] {
		m.add(r.layer(l))
	}
	if m.name == "" && len(m.layers) == 1 {
		m.name = m.layers[0].name
	}
	r.sets[id] = m
	return m
}

func (m *makeup) add(l layer) {
	if l.thickness > 0.01 && l.thickness < 1e5 {
		m.layers = append(m.layers, l)
		m.total += l.thickness
	}
}

func (r *reader) layer(id step.ID) layer {
	args := r.file.Args(id)
	thickness, _ := args.At(1).Real()
	l := layer{thickness: thickness * r.shape.Units().Length}
	category := ""
	if material, ok := args.At(0).Ref(); ok {
		l.name = r.file.Arg(material, 0).Text()
		category = r.file.Arg(material, 2).Text()
	}
	if name := args.At(3).Text(); l.name == "" {
		l.name = name
	}
	l.words = lower(l.name, category, args.At(3).Text(), args.At(5).Text())
	return l
}

// materialNames joins the names of materials; in constituents the material is
// attribute at.
func (r *reader) materialNames(ids []step.ID, at int) string {
	var names []string
	for _, id := range ids {
		if material, ok := r.file.Arg(id, at).Ref(); ok {
			id = material
		}
		names = append(names, r.file.Arg(id, 0).Text())
	}
	return lower(names...)
}

// lower joins texts in lower case, to look for words in.
func lower(texts ...string) string { return strings.ToLower(strings.Join(texts, " | ")) }

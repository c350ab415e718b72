package ifc

import (
	"strings"

	"nogging/internal/exchange/ifc/own"
	"nogging/internal/exchange/ifc/step"
)

// relations are the relationships of the file that matter here, by the objects
// they relate.
type relations struct {
	container map[step.ID]step.ID   // element: spatial structure it is contained in
	whole     map[step.ID]step.ID   // part: what it is aggregated into
	parts     map[step.ID][]step.ID // the other way round
	typeOf    map[step.ID]step.ID
	material  map[step.ID]step.ID
	sets      map[step.ID][]step.ID // object: its property sets and quantities that are read
	host      map[step.ID]step.ID   // opening: element it voids
	fillings  map[step.ID][]step.ID // opening: doors and the like
	filled    map[step.ID]bool      // doors and the like that fill an opening
}

// relations gathers the relationships.
func (r *reader) relations() {
	rel := &r.rel
	*rel = relations{
		container: map[step.ID]step.ID{}, whole: map[step.ID]step.ID{}, parts: map[step.ID][]step.ID{},
		typeOf: map[step.ID]step.ID{}, material: map[step.ID]step.ID{}, sets: map[step.ID][]step.ID{},
		host: map[step.ID]step.ID{}, fillings: map[step.ID][]step.ID{}, filled: map[step.ID]bool{},
	}
	r.each("IFCRELCONTAINEDINSPATIALSTRUCTURE", func(structure step.ID, elements []step.ID) { link(rel.container, elements, structure) })
	r.each("IFCRELDEFINESBYTYPE", func(of step.ID, objects []step.ID) { link(rel.typeOf, objects, of) })
	r.each("IFCRELASSOCIATESMATERIAL", func(material step.ID, objects []step.ID) { link(rel.material, objects, material) })
	r.each("IFCRELDEFINESBYPROPERTIES", func(set step.ID, objects []step.ID) {
		if r.wanted(set) {
			for _, o := range objects {
				rel.sets[o] = append(rel.sets[o], set)
			}
		}
	})
	for _, id := range r.file.OfType("IFCRELAGGREGATES") {
		args := r.file.Args(id)
		if whole, ok := args.At(4).Ref(); ok {
			parts := args.At(5).Refs()
			link(rel.whole, parts, whole)
			rel.parts[whole] = append(rel.parts[whole], parts...)
		}
	}
	for _, id := range r.file.OfType("IFCRELVOIDSELEMENT") {
		args := r.file.Args(id)
		host, okHost := args.At(4).Ref()
		opening, okOpening := args.At(5).Ref()
		if okHost && okOpening {
			link(rel.host, []step.ID{opening}, host)
		}
	}
	for _, id := range r.file.OfType("IFCRELFILLSELEMENT") {
		args := r.file.Args(id)
		opening, okOpening := args.At(4).Ref()
		filling, okFilling := args.At(5).Ref()
		if okOpening && okFilling {
			rel.fillings[opening] = append(rel.fillings[opening], filling)
			rel.filled[filling] = true
		}
	}
}

// each calls f for the relationships of a type that relate one object
// (attribute 5) to a list of others (attribute 4).
func (r *reader) each(keyword string, f func(one step.ID, others []step.ID)) {
	for _, id := range r.file.OfType(keyword) {
		args := r.file.Args(id)
		one := args.At(5)
		if _, inner := one.Typed(); inner.IsList() {
			one = inner // IfcPropertySetDefinitionSet
		}
		for _, o := range one.Refs() {
			f(o, args.At(4).Refs())
		}
	}
}

// link sets the partner of objects that have none yet.
func link(partner map[step.ID]step.ID, objects []step.ID, to step.ID) {
	for _, o := range objects {
		if _, taken := partner[o]; !taken {
			partner[o] = to
		}
	}
}

// wantedSets are the sets that are read, by their names in lower case.
var wantedSets = map[string]bool{
	"pset_wallcommon": true, "pset_doorcommon": true, "pset_spacecommon": true, "epset_mapconversion": true, "epset_projectedcrs": true, "pset_spaceoccupancyrequirements": true, strings.ToLower(own.PlanSet): true, strings.ToLower(own.WallSet): true,
}

// wantedQuantities are the sets of quantities that are read: those of IFC4, and those that
// files of IFC2X3 have under one name for all, or under none.
var wantedQuantities = map[string]bool{"qto_wallbasequantities": true, "basequantities": true, "": true}

// wanted reports whether a set is one that is read.
func (r *reader) wanted(set step.ID) bool {
	switch r.file.Type(set) {
	case "IFCPROPERTYSET":
		return wantedSets[strings.ToLower(r.file.Arg(set, 2).Text())]
	case "IFCELEMENTQUANTITY":
		return wantedQuantities[strings.ToLower(r.file.Arg(set, 2).Text())]
	case "IFCDOORLININGPROPERTIES", "IFCDOORPANELPROPERTIES":
		return true
	}
	return false
}

// isSet reports whether a set has a name, however its letters are written.
func (r *reader) isSet(set step.ID, name string) bool {
	return r.file.Type(set) == "IFCPROPERTYSET" && strings.EqualFold(r.file.Arg(set, 2).Text(), name)
}

// values yields the single values of an object's sets of a name, with their properties'
// names.
func (r *reader) values(object step.ID, name string, f func(property string, value step.Value)) {
	for _, set := range r.rel.sets[object] {
		if r.isSet(set, name) {
			r.setValues(set, f)
		}
	}
}

// setValues yields the single values of a set.
func (r *reader) setValues(set step.ID, f func(property string, value step.Value)) {
	for _, id := range r.file.Arg(set, 4).Refs() {
		args := r.file.Args(id)
		f(args.At(0).Text(), args.At(2))
	}
}

// maxTree bounds the climb through aggregates and spatial containers.
const maxTree = 64

// storeyOf returns the storey in which an element is contained, directly,
// through what it is a part of, or through a space.
func (r *reader) storeyOf(id step.ID) *level {
	for range maxTree {
		if l, ok := r.storey[id]; ok {
			return l
		}
		up, ok := r.rel.container[id]
		if !ok {
			if up, ok = r.rel.whole[id]; !ok {
				return nil
			}
		}
		id = up
	}
	return nil
}

package ifc_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/exchange/ifc"
	"nogging/internal/plan"
)

// TestSwings: a door opens towards its own y; SINGLE_SWING_LEFT hangs on the left as seen
// along it, which is against its x (IfcDoorTypeOperationEnum, buildingSMART). The wall
// runs along x, so face A, on its left, is towards +y.
func TestSwings(t *testing.T) {
	straight := []float64{1000, 0, 0, 0, 0, 1, 1, 0, 0} // x along the wall, y to face A
	turned := []float64{1900, 0, 0, 0, 0, 1, -1, 0, 0}  // x against it, y to face B
	for _, x := range []struct {
		name, operation string
		at              []float64
		want            plan.Leaf
	}{
		{"left", "SINGLE_SWING_LEFT", straight, plan.Leaf{Count: 1, Hinge: "start", Opens: "a"}},
		{"right", "SINGLE_SWING_RIGHT", straight, plan.Leaf{Count: 1, Hinge: "end", Opens: "a"}},
		{"left, turned", "SINGLE_SWING_LEFT", turned, plan.Leaf{Count: 1, Hinge: "end", Opens: "b"}},
		{"right, turned", "SINGLE_SWING_RIGHT", turned, plan.Leaf{Count: 1, Hinge: "start", Opens: "b"}},
		{"two leaves", "DOUBLE_DOOR_SINGLE_SWING", turned, plan.Leaf{Count: 2, Opens: "b"}},
		{"both ways", "DOUBLE_SWING_RIGHT", straight, plan.Leaf{Count: 1, Hinge: "end"}},
		{"two leaves both ways", "DOUBLE_DOOR_DOUBLE_SWING", straight, plan.Leaf{Count: 2}},
		{"opposite ways", "DOUBLE_DOOR_SINGLE_SWING_OPPOSITE_LEFT", straight, plan.Leaf{Count: 2}},
		{"sliding", "SLIDING_TO_LEFT", straight, plan.Leaf{Count: 1}},
		{"not said", "NOTDEFINED", straight, plan.Leaf{}},
	} {
		for _, by := range []string{"itself", "its type", "its style"} {
			m, w := house()
			if by == "its style" {
				m.schema = "IFC2X3"
			}
			o := m.opening(w, m.block(1000, -50, 0, 1900, 50, 2100))
			at := m.at(m.placementOf(o), m.place(x.at...))
			operation := "." + x.operation + "."
			if by != "itself" {
				operation = "$"
			}
			d := m.put("IFCDOOR('d',$,'Door',$,$,%s,$,$,2100.,900.,.DOOR.,%s,$)", at, operation)
			m.put("IFCRELFILLSELEMENT('f',$,$,$,%s,%s)", o, d)
			switch by {
			case "its type":
				m.put("IFCRELDEFINESBYTYPE('r',$,$,$,(%s),%s)", d, m.put("IFCDOORTYPE('t',$,'D',$,$,$,$,$,$,.DOOR.,.%s.,$,$)", x.operation))
			case "its style":
				m.put("IFCRELDEFINESBYTYPE('r',$,$,$,(%s),%s)", d, m.put("IFCDOORSTYLE('t',$,'D',$,$,$,$,$,.%s.,.NOTDEFINED.,.F.,.F.)", x.operation))
			}
			p, _, found := read(t, m)
			if diff := cmp.Diff(x.want, only(t, p, found).Openings[0].Leaf); diff != "" {
				t.Errorf("%s by %s: %s", x.name, by, diff)
			}
			if slides := x.name == "sliding"; has(found, "door-slides", "L1-01/1") != slides {
				t.Errorf("%s: %v", x.name, found)
			}
		}
	}
}

// TestMirroredDoor: a mapped body that is mirrored across its x hangs on the other side.
func TestMirroredDoor(t *testing.T) {
	for mirrored, hinge := range map[bool]string{false: "start", true: "end"} {
		m, w := house()
		o := m.opening(w, m.block(1000, -50, 0, 1900, 50, 2100))
		rep := m.put("IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(%s))", m.block(0, -20, 0, 900, 20, 2100))
		x, origin := m.dir(1, 0, 0), m.pt(0, 0, 0)
		if mirrored {
			x, origin = m.dir(-1, 0, 0), m.pt(900, 0, 0)
		}
		target := m.put("IFCCARTESIANTRANSFORMATIONOPERATOR3D(%s,%s,%s,1.,%s)", x, m.dir(0, 1, 0), origin, m.dir(0, 0, 1))
		item := m.put("IFCMAPPEDITEM(%s,%s)", m.put("IFCREPRESENTATIONMAP(%s,%s)", m.place(), rep), target)
		d := m.put("IFCDOOR('d',$,'Door',$,$,%s,%s,$,2100.,900.,.DOOR.,.SINGLE_SWING_LEFT.,$)", m.at(m.placementOf(o), m.place(1000, 0, 0)), m.body(item))
		m.put("IFCRELFILLSELEMENT('f',$,$,$,%s,%s)", o, d)
		p, _, found := read(t, m)
		if diff := cmp.Diff(plan.Leaf{Count: 1, Hinge: hinge, Opens: "a"}, only(t, p, found).Openings[0].Leaf); diff != "" {
			t.Errorf("mirrored %v: %s", mirrored, diff)
		}
	}
}

// TestLeafSizes: IfcDoorLiningProperties and IfcDoorPanelProperties give frame and leaf;
// Pset_DoorCommon what the door does, its own before that of its type.
func TestLeafSizes(t *testing.T) {
	for _, double := range []bool{false, true} {
		m, w := house()
		o := m.opening(w, m.block(1000, -50, 0, 2000, 50, 2100))
		operation, panels, leaf := "SINGLE_SWING_RIGHT", "1.", plan.Leaf{Count: 1, Hinge: "end", Opens: "a", Width: mm(900), Height: mm(2050)}
		if double {
			operation, panels, leaf = "DOUBLE_DOOR_SINGLE_SWING", "0.6", plan.Leaf{Count: 2, Opens: "a", Width: mm(540), Height: mm(2050)}
		}
		leaf.Frame, leaf.FrameDepth, leaf.Fire = mm(50), mm(120), "EI2 30-C"
		d := m.put("IFCDOOR('d',$,'Door',$,$,%s,$,$,2100.,1000.,.DOOR.,.%s.,$)", m.at(m.placementOf(o), m.place(1000, 0, 0)), operation)
		m.put("IFCRELFILLSELEMENT('f',$,$,$,%s,%s)", o, d)
		lining := m.put("IFCDOORLININGPROPERTIES('l',$,$,$,120.,50.,$,$,$,$,$,$,$,$,$)")
		panel := m.put("IFCDOORPANELPROPERTIES('p',$,$,$,40.,.SWINGING.,%s,.LEFT.,$)", panels)
		typed := m.put("IFCPROPERTYSET('x',$,'Pset_DoorCommon',$,(%s,%s))", m.put("IFCPROPERTYSINGLEVALUE('FireRating',$,IFCLABEL('T90'),$)"), m.put("IFCPROPERTYSINGLEVALUE('AcousticRating',$,IFCLABEL('Rw 32'),$)"))
		m.put("IFCRELDEFINESBYTYPE('r',$,$,$,(%s),%s)", d, m.put("IFCDOORTYPE('t',$,'D',$,$,(%s,%s,%s),$,$,$,.DOOR.,.NOTDEFINED.,$,$)", lining, panel, typed))
		own := m.put("IFCPROPERTYSET('y',$,'Pset_DoorCommon',$,(%s))", m.put("IFCPROPERTYSINGLEVALUE('FireRating',$,IFCLABEL('EI2  30-C'),$)"))
		m.put("IFCRELDEFINESBYPROPERTIES('r',$,$,$,(%s),%s)", d, own)
		p, _, found := read(t, m)
		got := only(t, p, found).Openings[0]
		if diff := cmp.Diff(leaf, got.Leaf); diff != "" || got.Sound != "Rw 32" {
			t.Errorf("%s, sound %q", diff, got.Sound)
		}
	}
}

func TestDoorRatingUnclear(t *testing.T) {
	m, w := house()
	d := m.door(m.opening(w, m.block(1000, -50, 0, 1900, 50, 2100)), 900, 2100)
	set := m.put("IFCPROPERTYSET('y',$,'Pset_DoorCommon',$,(%s,%s))", m.put("IFCPROPERTYSINGLEVALUE('FireRating',$,IFCLABEL('as spec'),$)"), m.put("IFCPROPERTYSINGLEVALUE('AcousticRating',$,IFCLABEL('AcousticRating'),$)"))
	m.put("IFCRELDEFINESBYPROPERTIES('r',$,$,$,(%s),%s)", d, set)
	p, _, found := ifc.Options{}.Read("x.ifc", m.bytes())
	o := only(t, p, found).Openings[0]
	n := 0
	for _, f := range found {
		if f.Code == "rating-unclear" {
			n++
		}
	}
	if n != 1 || o.Leaf.Fire != "" || o.Sound != "" {
		t.Errorf("%+v %v", o, found)
	}
}

package plan

// auto is what a file may say where the model has nothing.
const auto = "auto"

// choices lists what the fields with fixed values may say, by the Go type and
// the key of the field. The check and the schema both go by it.
var choices = map[string][]string{
	"Level.floor":        {Concrete, Screed, RaisedFloor, Timber},
	"Level.soffit":       {Concrete, MetalDeck, Steel, Timber},
	"Structure.kind":     {"wall", "column", "facade", FacadePost, "other"},
	"Structure.material": {Concrete, "masonry", Steel, Timber, "glass"},
	"Room.wet":           wetClasses,
	"BuildUp.seal":       {"tape", "sealant"},
	"BuildUp.finish":     {"Q1", "Q2", "Q3", "Q4", "L0", "L1", "L2", "L3", "L4", "L5"},
	"FrameSpec.kind":     texts(FrameKinds()),
	"Insulation.place":   texts([]FillPlace{InFrameA, InFrameB, InGap}),
	"Wall.justify":       texts([]Justify{Centre, OnFaceA, OnFaceB}),
	"Wall.stands":        {OnFloor, OnSlab},
	"Wall.head":          {auto, HeadRigid, HeadDeflection, HeadFree},
	"Wall.start":         endConditions,
	"Wall.end":           endConditions,
	"Requirements.wet":   wetClasses,
	"Opening.kind":       texts(OpeningKinds()),
	"Opening.service":    {Metal, PlasticPipe, Duct, Cable},
	"Opening.pocket":     {AtStart, AtEnd},
	"Leaf.hinge":         {AtStart, AtEnd},
	"Leaf.opens":         faces,
	"Pipe.service":       {"water", "waste", "heating", "gas", Duct, Cable},
	"Box.kind":           {"socket", "switch", "data", "other"},
	"Box.face":           faces,
	"Fixing.kind":        {"console", "wc", "basin", "sanitary_frame", "grab_rail", "rail", "radiator", "cabinet", "screen"},
	"Fixing.face":        faces,
	"Junction.boards":    {BoardsCut, BoardsRun},
}

var (
	// wetClasses are the water action classes of DIN 18534-1.
	wetClasses    = []string{"W0-I", "W1-I", "W2-I", "W3-I"}
	endConditions = []string{auto, string(FreeEnd), string(ToStructure)}
	faces         = texts([]Face{FaceA, FaceB})
)

func texts[T ~string](values []T) []string {
	list := make([]string, len(values))
	for i, v := range values {
		list[i] = string(v)
	}
	return list
}

package programme

import (
	"strings"

	"nogging/internal/catalogue"
)

// Stage is a step of the work on a group of walls, in the words of files.
type Stage string

// The stages, in the order of the work.
const (
	SetOut       Stage = "set_out"
	Tracks       Stage = "tracks"
	Studs        Stage = "studs"
	FirstFace    Stage = "first_face"
	Services     Stage = "services" // by others, in the open cavity
	Insulation   Stage = "insulation"
	BeforeClose  Stage = "before_closing" // inspection
	SecondFace   Stage = "second_face"
	InnerJoints  Stage = "inner_joints"
	SecondLayer  Stage = "second_layer"
	InnerJoints2 Stage = "inner_joints_2"
	ThirdLayer   Stage = "third_layer"
	InnerJoints3 Stage = "inner_joints_3"
	FourthLayer  Stage = "fourth_layer"
	Beads        Stage = "beads"
	FirstCoat    Stage = "first_coat"
	SecondCoat   Stage = "second_coat"
	ThirdCoat    Stage = "third_coat"
	WholeFace    Stage = "whole_face" // pores closed, or a skim
	Sanding      Stage = "sanding"
	Final        Stage = "final" // inspection
	Painting     Stage = "painting"
)

// stages lists every stage with what people call it and the skill that it takes.
var stages = []struct {
	id    Stage
	name  string
	skill Skill
}{
	{SetOut, "set-out", SkillSetOut},
	{Tracks, "tracks", SkillFrame},
	{Studs, "studs and door frames", SkillFrame},
	{FirstFace, "first face", SkillBoard},
	{Services, "services by others", ""},
	{Insulation, "insulation", SkillInsulate},
	{BeforeClose, "inspection before closing", ""},
	{SecondFace, "second face", SkillBoard},
	{InnerJoints, "inner-layer joints", SkillJoint},
	{SecondLayer, "second layer", SkillBoard},
	{InnerJoints2, "joints of the second layer", SkillJoint},
	{ThirdLayer, "third layer", SkillBoard},
	{InnerJoints3, "joints of the third layer", SkillJoint},
	{FourthLayer, "fourth layer", SkillBoard},
	{Beads, "beads", SkillJoint},
	{FirstCoat, "tape and first coat", SkillJoint},
	{SecondCoat, "second coat", SkillJoint},
	{ThirdCoat, "third coat", SkillJoint},
	{WholeFace, "closing or skimming of faces", SkillJoint},
	{Sanding, "sanding", SkillJoint},
	{Final, "inspection", ""},
	{Painting, "painting", SkillPaint},
}

// Stages lists the stages in the order of the work.
func Stages() []Stage {
	list := make([]Stage, len(stages))
	for i := range stages {
		list[i] = stages[i].id
	}
	return list
}

// rank returns the place of a stage in the order of the work; -1 for none.
func (s Stage) rank() int {
	for i := range stages {
		if stages[i].id == s {
			return i
		}
	}
	return -1
}

// Name is what people call the stage.
func (s Stage) Name() string {
	if i := s.rank(); i >= 0 {
		return stages[i].name
	}
	return strings.ReplaceAll(string(s), "_", " ")
}

// Skill is the skill that the stage takes; none for what others do.
func (s Stage) Skill() Skill {
	if i := s.rank(); i >= 0 {
		return stages[i].skill
	}
	return ""
}

// wet reports whether compound is spread in the stage, which takes the warmth that
// jointing asks for.
func (s Stage) wet() bool {
	switch s {
	case InnerJoints, InnerJoints2, InnerJoints3, FirstCoat, SecondCoat, ThirdCoat, WholeFace:
		return true
	}
	return false
}

// Skill is what a gang can do.
type Skill string

// The skills.
const (
	SkillSetOut   Skill = "setting_out"
	SkillFrame    Skill = "framing"
	SkillBoard    Skill = "boarding"
	SkillInsulate Skill = "insulating"
	SkillJoint    Skill = "jointing" // filling, taping, coating, beads, sanding
	SkillPaint    Skill = "painting"
)

// Skills lists the skills.
func Skills() []Skill {
	return []Skill{SkillSetOut, SkillFrame, SkillBoard, SkillInsulate, SkillJoint, SkillPaint}
}

// layerStages are the stages in which the layers of boards of a wall go up, from
// the second on; the first layer is that of the faces.
var layerStages = []Stage{SecondLayer, ThirdLayer, FourthLayer}

// jointStages are the stages in which the joints of layers that others cover are
// filled, from the first layer on.
var jointStages = []Stage{InnerJoints, InnerJoints2, InnerJoints3}

// coatStages are the stages of coats over joints.
var coatStages = []Stage{FirstCoat, SecondCoat, ThirdCoat}

// nth returns entry i, or the last where there are fewer.
func nth(list []Stage, i int) Stage { return list[min(i, len(list)-1)] }

// stagesOf lists the stages in which an operation is done.
func stagesOf(operation string) []Stage {
	switch operation {
	case catalogue.SetOut:
		return []Stage{SetOut}
	case catalogue.FixTrack, catalogue.SealFrame:
		return []Stage{Tracks}
	case catalogue.StandStud, catalogue.FrameTrim, catalogue.FitNogging:
		return []Stage{Studs}
	case catalogue.BoardInner, catalogue.BoardOuter, catalogue.CutOut:
		return append([]Stage{FirstFace, SecondFace}, layerStages...)
	case catalogue.Insulate:
		return []Stage{Insulation}
	case catalogue.FillJoint:
		return jointStages
	case catalogue.FitBead:
		return []Stage{Beads}
	case catalogue.TapeJoint:
		return []Stage{FirstCoat}
	case catalogue.CoatJoint, catalogue.CoatHead:
		return coatStages
	case catalogue.CloseFace, catalogue.SkimFace:
		return []Stage{WholeFace}
	case catalogue.Sand:
		return []Stage{Sanding}
	case catalogue.PaintFace:
		return []Stage{Painting}
	}
	return nil
}

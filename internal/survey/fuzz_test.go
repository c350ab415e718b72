package survey_test

import (
	"testing"

	"nogging/internal/plan"
	"nogging/internal/survey"
	"nogging/internal/table"
)

// FuzzSurvey: whatever a table of points holds, a plan can be bent to what is taken of
// it, and the plan as built can be written.
func FuzzSurvey(f *testing.F) {
	for _, seed := range []string{"x,y,z\n0,0,3500\n4000,0,6200\n", "Point;X [m];Y [m];Z [m];on\n1;0,00;0,05;3,49;floor\n2;2;0;6.21;soffit\n3;3,98;0;5;face\n",
		"x,y,z,on\n1e300,0,0,face\n4000,-9e18,0,face\n", "e\tn\th\n9'-2\"\t0\t11'\n"} {
		f.Add([]byte(seed), "")
	}
	f.Fuzz(func(t *testing.T, data []byte, unit string) {
		rows, _ := table.CSV(data, "")
		points := (&survey.Columns{Unit: unit}).Read("points.csv", rows).Points
		r := survey.Bend(simple(), points, 5*mm)
		if _, err := plan.Marshal(r.Plan); err != nil {
			t.Fatal(err)
		}
	})
}

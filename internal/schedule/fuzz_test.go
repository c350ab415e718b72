package schedule_test

import (
	"testing"

	"nogging/internal/plan"
	"nogging/internal/schedule"
	"nogging/internal/table"
)

// FuzzMerge: whatever a schedule holds, and whatever is said of its columns, the plan
// with it can be written, and keeps its walls.
func FuzzMerge(f *testing.F) {
	f.Add([]byte("Wall no,Type,Fire,Rw,Wet\nL1-01,W2,60,R'w 53,W1-I\nL1-09,W2,,,\n"), []byte(""))
	f.Add([]byte("From;To;Height [m];Zone\nOffice;Store;2,70;east\n"), []byte("values: {fire: {F90: EI 90}}\nunit: cm\n"))
	f.Add([]byte("Door,Width,Height,Leaf mass\nD2,885,2110,35 kg\nD2,0,-1,x\n"), []byte("columns: {width: Breadth}\nseparator: \"\"\n"))
	p, found := plan.Parse("plan.yaml", []byte(planText))
	if len(found) > 0 {
		f.Fatal(found)
	}
	f.Fuzz(func(t *testing.T, data, columns []byte) {
		c, _ := schedule.ReadColumns("columns.yaml", columns)
		rows, _ := table.CSV(data, c.Separator)
		r := schedule.Merge(p, "walls.csv", rows, c)
		if len(r.Plan.Walls) != len(p.Walls) {
			t.Fatalf("%d walls", len(r.Plan.Walls))
		}
		if _, err := plan.Marshal(r.Plan); err != nil {
			t.Fatal(err)
		}
	})
}

package programme

import (
	"os"
	"testing"

	"nogging/internal/schematest"
)

// The published schema is the one that the types give.
func TestSchemaIsCurrent(t *testing.T) {
	published, err := os.ReadFile("../../schema/gangs.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	schematest.Current(t, published, schema(t))
}

func schema(t *testing.T) []byte {
	made, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	return made
}

// The schema takes the starter and the demo, and refuses what the reader refuses.
func TestSchemaJudges(t *testing.T) {
	judge := schematest.Judge(t, schema(t))
	demo, err := os.ReadFile("../../demo/site/gangs.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, good := range [][]byte{Starter(), demo, []byte(site)} {
		if err := judge(good); err != nil {
			t.Error(err)
		}
	}
	for _, bad := range []string{
		"programme: 2\ncalendars: []\ngangs: []\n",
		"programme: 1\ngangs: []\n",
		"programme: 1\ncalendars: []\ngangs: [{id: x, skills: [singing], size: 2}]\n",
		"programme: 1\ncalendars: [{id: x, days: [moonday], shifts: [\"07:00-12:00\"]}]\ngangs: []\n",
		"programme: 1\ncalendars: []\ngangs: []\ncompound: quick\n",
		"programme: 1\ncalendars: []\ngangs: []\nhats: 3\n",
	} {
		if judge([]byte(bad)) == nil {
			t.Errorf("the schema takes %q", bad)
		}
	}
}

// The starter is read without a finding.
func TestStarter(t *testing.T) {
	if _, found := ReadSite("gangs.yaml", Starter()); len(found) > 0 {
		t.Error(found)
	}
}

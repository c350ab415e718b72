package step

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	_ "nogging/internal/draws"
)

func file(data ...string) *File { return Parse([]byte(strings.Join(data, "\n"))) }

func TestIndex(t *testing.T) {
	f := file(
		"ISO-10303-21;",
		"HEADER;",
		"FILE_DESCRIPTION('no inner list','2;1');", // malformed, as in an official example file
		"FILE_NAME('a;b''c#1=X(1);',$);",
		"FILE_SCHEMA (( 'ifc4' ));",
		"ENDSEC;",
		"DATA;",
		"/* a comment; with #9=IFCWALL('no'); inside */",
		"#1=IFCWALL('it''s; here',#2,$);",
		"#2 = ifcwall ( 'lower case' , * ,",
		"   (1.,2.), /* between */ .T. ) ;",
		"#268590526=IFCDOOR();",
		"ENDSEC;",
		"DATA;",
		"#3=IFCWALL($);#4=IFCDOOR(#1);",
		"ENDSEC;",
		"END-ISO-10303-21;",
	)
	if got := f.Problems(); len(got) != 0 {
		t.Errorf("problems: %v", got)
	}
	if diff := cmp.Diff([]string{"IFC4"}, f.Schemas()); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]ID{1, 2, 3}, f.OfType("IFCWALL")); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]ID{268590526, 4}, f.OfType("IFCDOOR")); diff != "" {
		t.Error(diff)
	}
	if got := f.Args(1).At(0).Text(); got != "it's; here" {
		t.Errorf("text: %q", got)
	}
	args := f.Args(2)
	if len(args) != 4 || !args.At(1).IsNull() || !args.At(7).IsNull() {
		t.Errorf("arguments of #2: %q", args)
	}
	if diff := cmp.Diff([]float64{1, 2}, args.At(2).Reals(nil)); diff != "" {
		t.Error(diff)
	}
	if v, ok := args.At(3).Bool(); !v || !ok {
		t.Errorf("boolean of #2: %q", args.At(3))
	}
	if line, column := f.Place(2); line != 10 || column != 1 {
		t.Errorf("#2 is at %d:%d, want 10:1", line, column)
	}
	if line, column := f.Place(4); line != 15 || column != 15 {
		t.Errorf("#4 is at %d:%d, want 15:15", line, column)
	}
	if line, _ := f.Place(5); f.Args(5) != nil || f.Type(5) != "" || line != 0 {
		t.Error("an instance that is not there")
	}
}

// Line ends: LF, CRLF and CR alone all occur in files.
func TestLineEnds(t *testing.T) {
	for _, end := range []string{"\n", "\r\n", "\r"} {
		f := Parse([]byte(strings.Join([]string{"ISO-10303-21;", "DATA;", "#1=A(1);", "#2=B(", "2);", "#3=C(3);"}, end)))
		first, _ := f.Place(1)
		last, _ := f.Place(3)
		if f.Len() != 3 || first != 3 || last != 6 {
			t.Errorf("%q: %d instances, #1 on line %d, #3 on line %d", end, f.Len(), first, last)
		}
	}
}

// One broken instance must not cost its neighbours.
func TestBroken(t *testing.T) {
	tests := []struct {
		name, broken string
		line         int
	}{
		{"text never closed", "#2=B('open);", 2},
		{"semicolon missing", "#2=B(1)", 2},
		{"no keyword", "#2=(1);", 2},
		{"no brackets", "#2=B;", 2},
		{"no equals sign", "#2 B(1);", 2},
		{"no number", "#=B(1);", 2},
		{"number too long", "#12345678901234567890=B(1);", 2},
		{"number used twice", "#1=B(1);", 2},
	}
	for _, test := range tests {
		f := file("#1=A(1);", test.broken, "#3=C('c',3);", "#4=D();")
		if diff := cmp.Diff([]ID{3}, f.OfType("C")); diff != "" {
			t.Errorf("%s: %s", test.name, diff)
		}
		if p := f.Problems(); len(p) != 1 || p[0].Line != test.line {
			t.Errorf("%s: problems %v", test.name, p)
		}
		if f.Type(1) != "A" || f.Len() != 3 {
			t.Errorf("%s: %d instances", test.name, f.Len())
		}
	}
}

// Numbers may be few and far between, or in any order.
func TestSparseNumbers(t *testing.T) {
	f := file("#999999999=A(1);", "#5=A(2);", "#70=B(3);")
	if diff := cmp.Diff([]ID{999999999, 5}, f.OfType("A")); diff != "" {
		t.Error(diff)
	}
	if n, _ := f.Arg(70, 0).Int(); n != 3 || f.Has(6) || f.Compare(999999999, 5) >= 0 {
		t.Errorf("#70 holds %d", n)
	}
}

func TestProblemsAreBounded(t *testing.T) {
	if n := len(Parse([]byte(strings.Repeat("#1;", 10_000))).Problems()); n != maxProblems {
		t.Errorf("%d problems, want %d", n, maxProblems)
	}
}

// The examples of the string encoding are those of ISO 10303-21:2016, 6.4.3,
// and of the buildingSMART page 'String encoding and decoding'.
func TestText(t *testing.T) {
	tests := []struct{ in, want string }{
		{`'plain'`, "plain"},
		{`''`, ""},
		{`'don''t'`, "don't"},
		{`'see \X\A7 4.1'`, "see § 4.1"},
		{`'T\S\|r'`, "Tür"},
		{`'\PE\\S\*\S\U\S\b'`, "Њет"},
		{`'\X2\03C0\X0\ is pi'`, "π is pi"},
		{`'\X2\D83DDE00\X0\'`, "😀"},
		{`'\X4\0001F600\X0\'`, "😀"},
		{`'C:\\plans'`, `C:\plans`},
		{`'Tür'`, "Tür"},
		{"'T\xfcr'", "Tür"},
		{`'IFCLABEL is no type here'`, "IFCLABEL is no type here"},
		{`IFCLABEL('typed')`, "typed"},
		{`IFCLABEL ( 'typed' )`, "typed"},
		{`'\'`, `\`},
		{`'\Q'`, `\Q`},
		{`'\X2\12'`, "12"},
		{`$`, ""},
		{`12.`, ""},
	}
	for _, test := range tests {
		if got := Value(test.in).Text(); got != test.want {
			t.Errorf("%s: %q, want %q", test.in, got, test.want)
		}
	}
}

func TestValues(t *testing.T) {
	for in, want := range map[string]float64{
		"1.": 1, "-0.5": -0.5, "1": 1, "1.E-05": 1e-5, "-2.4492127E-16": -2.4492127e-16,
		"3.100000000000378": 3.100000000000378, "0.66666666666666663": 0.66666666666666663,
		"IFCLENGTHMEASURE(0.0254)": 0.0254, "+7.25": 7.25, "123456789012345678": 123456789012345678,
	} {
		if got, ok := Value(in).Real(); got != want || !ok {
			t.Errorf("%s: %v %v", in, got, ok)
		}
	}
	for _, in := range []string{"", "$", "*", "'1'", "#1", ".T.", "(1.)", "1.2.3", "-", ".", "1e999", "inf", "0x1p4"} {
		if got, ok := Value(in).Real(); ok {
			t.Errorf("%s: read as %v", in, got)
		}
	}
	if ids := Value("(#1, #22 ,$,#x)").Refs(); !slices.Equal(ids, []ID{1, 22}) {
		t.Errorf("references: %v", ids)
	}
	for in, want := range map[string]int{"(1.,2.,3.)": 3, "( 1. , 2. )": 2, "(1.,2.,3.,4.)": 3, "()": 0, "$": 0, "(7.)": 1} {
		if x, n := Value(in).Three(); n != want || n > 1 && (x[0] != 1 || x[1] != 2) {
			t.Errorf("%s: %v %d", in, x, n)
		}
	}
	if keyword, inner := Value("IfcLineIndex((1,2))").Typed(); keyword != "IFCLINEINDEX" || string(inner) != "(1,2)" {
		t.Errorf("typed: %s %s", keyword, inner)
	}
	if got := Value(".partitioning.").Enum(); got != "PARTITIONING" {
		t.Errorf("enumeration: %s", got)
	}
	if n, ok := Value("7").Int(); n != 7 || !ok {
		t.Errorf("whole number: %d %v", n, ok)
	}
}

// Any tree of arguments that is written out comes back as it was.
func TestArgumentsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		gap := rapid.SampledFrom([]string{"", " ", "\n", "/* , ( ' */", "\r\n "})
		var write func(depth int) string
		write = func(depth int) string {
			kind := rapid.IntRange(0, 5).Draw(t, "kind")
			if depth > 3 {
				kind %= 4
			}
			switch kind {
			case 0:
				return fmt.Sprintf("#%d", rapid.IntRange(1, 1e9).Draw(t, "ref"))
			case 1:
				return fmt.Sprintf("%g.", float64(rapid.IntRange(-999, 999).Draw(t, "real")))
			case 2:
				text := rapid.StringMatching(`[ -&(-\[\]-~]{0,9}`).Draw(t, "text")
				return "'" + text + "'"
			case 3:
				return rapid.SampledFrom([]string{"$", "*", ".T.", `"0FF"`}).Draw(t, "word")
			}
			parts := make([]string, rapid.IntRange(1, 4).Draw(t, "items"))
			for i := range parts {
				parts[i] = gap.Draw(t, "gap") + write(depth+1) + gap.Draw(t, "gap")
			}
			list := "(" + strings.Join(parts, ",") + ")"
			if kind == 5 {
				list = "IFCANY" + list
			}
			return list
		}
		want := make([]string, rapid.IntRange(1, 6).Draw(t, "arguments"))
		text := ""
		for i := range want {
			want[i] = write(0)
			text += gap.Draw(t, "gap") + want[i] + gap.Draw(t, "gap") + ","
		}
		f := Parse([]byte("#5=X(" + strings.TrimSuffix(text, ",") + ");"))
		var got []string
		for _, v := range f.Args(5) {
			got = append(got, string(v))
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatal(diff)
		}
	})
}

func FuzzSTEP(f *testing.F) {
	for _, seed := range []string{
		"ISO-10303-21;HEADER;FILE_SCHEMA(('IFC4'));ENDSEC;DATA;#1=A('x',(1.,#2),.T.);ENDSEC;END-ISO-10303-21;",
		"#1=A('open\n#2=B(1);", "#1=A(1)\n#2=B(/*", "/*/", "#1=A(((;#2=B)))();", `#1=A('\X2\00E4\X0\\S\');`, "#1=#1=#1=",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		file := Parse(data)
		file.Schemas()
		n := 0
		for _, keyword := range file.Types() {
			for _, id := range file.OfType(keyword) {
				n++
				if line, column := file.Place(id); file.Type(id) != keyword || line < 1 || column < 1 {
					t.Fatalf("#%d is not what it was listed as", id)
				}
				for _, v := range file.Args(id) {
					visit(v, 0)
				}
			}
		}
		if n != file.Len() {
			t.Fatalf("%d instances listed by type of %d", n, file.Len())
		}
	})
}

// visit asks a value everything that can be asked.
func visit(v Value, depth int) {
	v.Text()
	v.Real()
	v.Int()
	v.Bool()
	v.Refs()
	v.Typed()
	if depth < 8 {
		for item := range v.Items() {
			visit(item, depth+1)
		}
	}
}

func BenchmarkParse(b *testing.B) {
	files, _ := filepath.Glob("../../../../../shared/data/plans/open/*.ifc")
	if len(files) == 0 {
		b.Skip("the shared sample files are not there")
	}
	for _, name := range files {
		b.Run(filepath.Base(name), func(b *testing.B) {
			data, err := os.ReadFile(name)
			if err != nil {
				b.Fatal(err)
			}
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			for b.Loop() {
				Parse(data)
			}
		})
	}
}

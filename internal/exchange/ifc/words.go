package ifc

import (
	"slices"
	"strings"
	"unicode"
)

// vocabulary is a list of words by which something is called, in the languages
// in which models are drawn. Long words are found anywhere, also within
// compounds; short ones only on their own.
type vocabulary struct{ parts, words []string }

// in returns the first word of the vocabulary that a text in lower case holds.
func (v vocabulary) in(text string) (string, bool) {
	for _, p := range v.parts {
		if strings.Contains(text, p) {
			return p, true
		}
	}
	if len(v.words) == 0 {
		return "", false
	}
	for word := range strings.FieldsFuncSeq(text, func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) }) {
		if slices.Contains(v.words, word) {
			return word, true
		}
	}
	return "", false
}

// Common practice: what layers and walls are called in models.
var (
	studWords = vocabulary{
		parts: []string{
			"stud", "framing", "ständer", "staender", "ständerwerk", "ossature", "montant", "profilé métal", "montante", "orditura", "entramado",
			"perfilería", "stålregel", "stålstender", "stender", "stolpe", "ranka", "runko", "profil stalowy", "profil cw", "каркас", "профиль", "轻钢龙骨", "龙骨", "軽鉄", "軽量鉄骨",
		},
		words: []string{"cw", "c-profil", "lgs", "regel", "regelwerk"},
	}
	boardWords = vocabulary{
		parts: []string{
			"plasterboard", "gypsum", "drywall", "wallboard", "wall board", "gipskarton", "gipsplatte", "gipsfaser", "gipsbau", "trockenbau", "plaque de plâtre",
			"plaque de platre", "plaques de plâtre", "gipsplaat", "gipskartonplaat", "cartongesso", "lastra in gesso", "yeso laminado", "cartón yeso", "carton yeso", "placa de yeso",
			"gesso cartonado", "placa de gesso", "gipsskiva", "gipsskive", "gipsplade", "gipsplate", "kipsilevy", "kipsi", "płyta g-k", "płyta gk", "gips-karton", "sádrokarton",
			"sadrokarton", "alçıpan", "gipszkarton", "gips carton", "гипсокартон", "гкл", "石膏板", "石膏ボード", "プラスターボード",
		},
		words: []string{"gyp", "gk", "gkb", "gkf", "gwb", "gips"},
	}
	partitionWords = vocabulary{
		parts: []string{
			"partition", "partn", "stud wall", "drywall", "dry wall", "dry lining", "furring", "trockenbau", "ständerwand", "staenderwand", "trennwand", "vorsatzschale", "installationswand",
			"leichtbauwand", "cloison", "contre-cloison", "scheidingswand", "voorzetwand", "tramezz", "parete divisoria", "controparete", "cartongesso", "tabique", "trasdosado",
			"divisória", "lettvegg", "skillevegg", "mellanvägg", "innervägg", "skillevæg", "letvæg", "väliseinä", "ścianka działowa", "sciana dzialowa", "příčka", "pricka", "válaszfal",
			"bölme duvar", "перегородка", "隔墙", "隔断", "間仕切", "gipskarton", "plasterboard",
		},
		words: []string{"gk", "gwb"},
	}
	outsideWords = vocabulary{
		parts: []string{
			"exterior", "external", "facade", "façade", "fassade", "außenwand", "aussenwand", "mur extérieur", "extérieur", "buitenmuur", "gevel", "esterno", "esterna", "fachada", "exterior",
			"externa", "yttervegg", "yttervägg", "ydervæg", "ulkoseinä", "zewnętrzn", "obvodov", "dış duvar", "наружн", "внешн", "外墙", "外壁",
		},
		words: []string{"ext", "outer", "outside"},
	}
	heavyWords = vocabulary{
		parts: []string{
			"masonry", "brick", "concrete", "blockwork", "cinder", "stone", "adobe", "ziegel", "mauerwerk", "kalksandstein", "kalksand", "beton", "naturstein", "porenbeton", "klinker",
			"brique", "parpaing", "béton", "maçonnerie", "moellon", "baksteen", "metselwerk", "kalkzand", "mattone", "muratura", "laterizio", "calcestruzzo", "ladrillo", "hormigón",
			"hormigon", "mampostería", "bloque", "tijolo", "alvenaria", "concreto", "betão", "tegel", "betong", "murverk", "mursten", "tegl", "tiili", "betoni", "cegła", "żelbet", "pustak",
			"cihla", "zdivo", "tuğla", "кирпич", "бетон", "кладка", "газобетон", "砖", "混凝土", "砌体", "レンガ", "コンクリート",
		},
		words: []string{"cmu", "block", "blk", "rc", "ks", "aac"},
	}
	woodWords = vocabulary{
		parts: []string{
			"wood", "timber", "lumber", "holz", "bois", "legno", "madera", "madeira", "träregel", "trästomme", "trestender", "bindingsverk", "puurunko", "drewn", "dřev", "ahşap", "дерев", "木",
		},
		words: []string{"hout", "houten", "trä", "tre", "træ", "puu", "fa"},
	}
	woolWords = vocabulary{
		parts: []string{
			"insul", "wool", "batt", "dämm", "daemm", "mineralwolle", "steinwolle", "glaswolle", "isolant", "isolation", "laine", "isolatie", "lana ", "aislamiento", "aislante", "isolering", "isolasjon",
			"eriste", "wełna", "izolac", "yalıtım", "утеплител", "минват", "保温", "岩棉", "断熱", "グラスウール",
		},
		words: []string{"mw", "lana", "fill"},
	}
	airWords = vocabulary{
		parts: []string{"air space", "air gap", "cavity", "luftschicht", "lame d'air", "spouw", "intercapedine", "cámara de aire", "luftspalt", "空气", "空気"},
		words: []string{"air", "luft", "aria", "aire", "gap", "void"},
	}
	finishWords = vocabulary{
		parts: []string{"paint", "tile", "wallpaper", "skim", "veneer", "fliese", "anstrich", "farbe", "tapete", "spachtel", "carrel", "peinture", "piastrell", "azulejo", "pintura", "kakel", "flis", "плитк", "краск", "瓷砖"},
		words: []string{"finish", "enduit"},
	}
	fireWords = vocabulary{
		parts: []string{"fire", "type x", "typ x", "feuerschutz", "brandschutz", "coupe-feu", "brandwerend", "antincendio", "ignífug", "brannn", "огнестойк", "耐火"},
		words: []string{"gkf", "gkfi", "df"},
	}
	wetWords = vocabulary{
		parts: []string{"moisture", "water resist", "impräg", "impraeg", "hydrofuge", "idrofug", "hidrófug", "våtrum", "влагостойк", "防水", "耐水"},
		words: []string{"gkbi", "h2", "wr"},
	}
)

// uses are the words by which rooms are told apart, in the order in which they
// are tried.
var uses = []struct {
	use   string
	words vocabulary
}{
	{"bathroom", vocabulary{parts: []string{"bath", "shower", "bad", "dusch", "salle de bain", "salle d'eau", "douche", "bagno", "baño", "bano", "banheiro", "dusj", "kylpy", "łazienka", "koupelna", "ванн", "душ", "浴室", "卫生间"}}},
	{"toilet", vocabulary{parts: []string{"toilet", "restroom", "washroom", "lavator", "sanit", "toalett", "toalet", "aseo", "туалет", "санузел", "厕所", "トイレ"}, words: []string{"wc", "men", "women", "herren", "damen", "h-wc", "d-wc"}}},
	{"kitchen", vocabulary{parts: []string{"kitchen", "pantry", "küche", "kueche", "teeküche", "cuisine", "keuken", "cucina", "cocina", "cozinha", "kök", "kjøkken", "køkken", "keittiö", "kuchnia", "kuchyň", "кухн", "厨房", "キッチン"}}},
	{"stair", vocabulary{parts: []string{"stair", "treppe", "escalier", "cage d'esc", "trap", "scala", "escalera", "escada", "trapp", "porras", "klatka", "schodiš", "лестни", "楼梯", "階段"}}},
	{"lift", vocabulary{parts: []string{"elevator", "aufzug", "ascenseur", "ascensor", "hiss", "heis", "лифт", "电梯"}, words: []string{"lift"}}},
	{"corridor", vocabulary{parts: []string{"corridor", "hallway", "hall", "passage", "flur", "gang", "diele", "couloir", "dégagement", "corridoio", "pasillo", "corredor", "korridor", "käytävä", "korytarz", "chodba", "коридор", "走廊", "廊下"}}},
	{"meeting room", vocabulary{parts: []string{"meeting", "conference", "besprech", "konferenz", "réunion", "vergader", "riunion", "reunión", "reunião", "möte", "møte", "переговор", "会议", "会議"}}},
	{"office", vocabulary{parts: []string{"office", "büro", "buero", "bureau", "kantoor", "ufficio", "oficina", "despacho", "escritório", "kontor", "toimisto", "biuro", "kancelář", "офис", "кабинет", "办公", "事務"}}},
	{"bedroom", vocabulary{parts: []string{"bedroom", "schlaf", "kinderzimmer", "chambre", "slaapkamer", "camera da letto", "dormitorio", "quarto", "sovrum", "soverom", "soveværelse", "makuuhuone", "sypialnia", "ložnice", "спальн", "卧室", "寝室"}}},
	{"living room", vocabulary{parts: []string{"living", "lounge", "wohn", "séjour", "salon", "woonkamer", "soggiorno", "sala de estar", "vardagsrum", "stue", "olohuone", "obývac", "гостин", "客厅", "居間"}}},
	{"plant room", vocabulary{parts: []string{"technik", "mechanical", "electrical", "plant room", "server", "haustechnik", "local technique", "locale tecnico", "utility", "teknik", "teknisk", "техническ", "机房", "機械室"}, words: []string{"mep", "hvac"}}},
	{"store", vocabulary{parts: []string{"storage", "lager", "abstell", "archiv", "rangement", "berging", "ripostiglio", "almacén", "trastero", "förråd", "varasto", "magazyn", "sklad", "кладов", "склад", "储藏", "倉庫"}, words: []string{"store", "closet"}}},
}

// useOf returns what a room is used for, judged by a name, and whether that says
// something that is known.
func useOf(name string) (use string, known bool) {
	text := lower(name)
	for _, u := range uses {
		if _, ok := u.words.in(text); ok {
			return u.use, true
		}
	}
	return "", false
}

package words

import "reflect"

// Translated returns a value with every Text in it said in a language, so that it can
// be written for people who read that. The value itself stays as it is; what holds no
// Text is shared with it. Maps' keys and fields that are not exported are left alone.
func Translated(v any, l Language) any {
	if l == English || v == nil {
		return v
	}
	return translated(reflect.ValueOf(v), l).Interface()
}

var textType = reflect.TypeFor[Text]()

func translated(v reflect.Value, l Language) reflect.Value {
	if v.Type() == textType {
		return reflect.ValueOf(Text(v.Interface().(Text).In(l)))
	}
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface, reflect.Slice, reflect.Map:
		if v.IsNil() {
			return v
		}
	}
	switch v.Kind() {
	case reflect.Interface:
		return translated(v.Elem(), l)
	case reflect.Pointer:
		if !holdsText(v.Type().Elem(), nil) {
			return v
		}
		other := reflect.New(v.Type().Elem())
		other.Elem().Set(translated(v.Elem(), l))
		return other
	case reflect.Struct:
		return translatedFields(v, l)
	case reflect.Slice, reflect.Array:
		if !holdsText(v.Type().Elem(), nil) {
			return v
		}
		other := reflect.New(v.Type()).Elem()
		if v.Kind() == reflect.Slice {
			other.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		}
		for i := range v.Len() {
			other.Index(i).Set(translated(v.Index(i), l))
		}
		return other
	case reflect.Map:
		if !holdsText(v.Type().Elem(), nil) {
			return v
		}
		other := reflect.MakeMapWithSize(v.Type(), v.Len())
		for each := v.MapRange(); each.Next(); {
			other.SetMapIndex(each.Key(), translated(each.Value(), l))
		}
		return other
	}
	return v
}

func translatedFields(v reflect.Value, l Language) reflect.Value {
	other := reflect.New(v.Type()).Elem()
	other.Set(v)
	for i := range v.NumField() {
		if f := v.Type().Field(i); (f.IsExported() || f.Anonymous) && other.Field(i).CanSet() && holdsText(f.Type, nil) {
			other.Field(i).Set(translated(v.Field(i), l))
		}
	}
	return other
}

// holdsText reports whether values of a type can hold a Text, other types met on the
// way left aside.
func holdsText(t reflect.Type, met []reflect.Type) bool {
	if t == textType || t.Kind() == reflect.Interface {
		return true
	}
	for _, m := range met {
		if m == t {
			return false
		}
	}
	met = append(met, t)
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Array, reflect.Map:
		return holdsText(t.Elem(), met)
	case reflect.Struct:
		for i := range t.NumField() {
			if holdsText(t.Field(i).Type, met) {
				return true
			}
		}
	}
	return false
}

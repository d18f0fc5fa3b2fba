package command

import (
	"bytes"
	"encoding"
	"encoding/json"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"bench/oilcan/model"
)

// output.schema.json says what every command writes with --json. It is made of the types that are
// written, with the comments of their fields; what commands really write is held to it
// (outputs_test.go). go test ./ui/command -run Schema -update-schema writes it anew.

var updateSchema = flag.Bool("update-schema", false, "write output.schema.json anew")

const schemaFile = "output.schema.json"

type object = map[string]any

// schemaOf is a schema in the making.
type schemaOf struct {
	t    *testing.T
	defs object
	docs map[string]map[string]string // package -> type, or type.field -> its comment
}

// TestSchemaFollowsTheTypes: no key is written that the schema does not know.
func TestSchemaFollowsTheTypes(t *testing.T) {
	w := schemaOf{t, object{}, map[string]map[string]string{}}
	for _, o := range outputs {
		if len(o.of) == 0 {
			continue
		}
		var ways []any
		for _, v := range o.of {
			ways = append(ways, w.written(v))
		}
		def := object{"anyOf": ways}
		if len(ways) == 1 {
			def = ways[0].(object)
		}
		w.defs[defName(o.words)] = def
	}
	data := schemaText(t, object{
		"$schema": "https://json-schema.org/draft/2020-12/schema",
		"title":   "What the commands write with --json",
		"description": "Of each command the definition called by its words: oilcan due. Keys keep their " +
			"sense; new ones may be added, and a program that reads them passes over those it does not know.",
		"$defs": w.defs})
	if *updateSchema {
		if err := os.WriteFile(schemaFile, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if have, err := os.ReadFile(schemaFile); err != nil || !bytes.Equal(have, data) {
		t.Errorf("%s does not say what is written (%v): run this test with -update-schema",
			schemaFile, err)
	}
}

// written is the schema of what is written.
func (w *schemaOf) written(v any) object {
	rows, ok := v.(mixed)
	if !ok {
		return w.schema(reflect.TypeOf(v))
	}
	var ways []any
	for _, r := range rows {
		ways = append(ways, w.schema(reflect.TypeOf(r)))
	}
	return object{"type": "array", "items": object{"anyOf": ways}}
}

func defName(words string) string { return strings.TrimSpace("oilcan " + words) }

func schemaText(t *testing.T, v any) []byte {
	t.Helper()
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(v); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Types that are written otherwise than they are made.
var (
	timeType  = reflect.TypeFor[time.Time]()
	entryType = reflect.TypeFor[model.Entry]()
	textType  = reflect.TypeFor[encoding.TextMarshaler]()
	jsonType  = reflect.TypeFor[json.Marshaler]()
	bookLine  = reflect.TypeFor[bookLines]()
	procedure = reflect.TypeFor[model.Procedure]()
)

// schema is that of a type.
func (w *schemaOf) schema(of reflect.Type) object {
	switch {
	case of.Kind() == reflect.Pointer:
		return orNull(w.schema(of.Elem()))
	case of == timeType:
		return object{"type": "string", "format": "date-time"}
	case of == bookLine:
		return object{"$ref": "../book/entry.schema.json"}
	case of == entryType:
		return object{"$ref": "../book/entry.schema.json#/$defs/Entry"}
	case of.Implements(textType):
		return object{"type": "string"}
	case reflect.PointerTo(of).Implements(jsonType):
		w.t.Fatalf("%s is written in a way of its own", of)
	}
	switch of.Kind() {
	case reflect.String:
		return object{"type": "string"}
	case reflect.Bool:
		return object{"type": "boolean"}
	case reflect.Int, reflect.Int64, reflect.Uint64, reflect.Int32:
		return object{"type": "integer"}
	case reflect.Float64:
		return object{"type": "number"}
	case reflect.Slice, reflect.Array:
		return object{"type": "array", "items": w.schema(of.Elem())}
	case reflect.Map:
		return object{"type": "object", "additionalProperties": w.schema(of.Elem())}
	case reflect.Interface:
		return object{}
	case reflect.Struct:
		return w.reference(of)
	}
	w.t.Fatalf("no schema for %s", of)
	return nil
}

func orNull(s object) object {
	if kind, ok := s["type"].(string); ok {
		s["type"] = []string{kind, "null"}
		return s
	}
	return object{"anyOf": []any{s, object{"type": "null"}}}
}

// reference names the schema of a struct, and makes it where there is none yet.
func (w *schemaOf) reference(of reflect.Type) object {
	name := filepath.Base(of.PkgPath()) + "." + of.Name()
	if of == procedure && w.defs[name] == nil {
		w.defs[name] = w.procedure()
	}
	if w.defs[name] == nil {
		w.defs[name] = object{} // it may hold itself
		props, required := object{}, []string{}
		w.fields(of, props, &required)
		slices.Sort(required)
		def := object{"type": "object", "properties": props, "additionalProperties": false}
		if doc := w.comment(of, ""); doc != "" {
			def["description"] = doc
		}
		if len(required) > 0 {
			def["required"] = required
		}
		w.defs[name] = def
	}
	return object{"$ref": "#/$defs/" + name}
}

// procedure is a procedure file as programs read it: by the keys of the file.
func (w *schemaOf) procedure() object {
	props := object{"materials": object{"description": "of dry-filament: the table of polymers"}}
	for i := range procedure.NumField() {
		if name, _, _ := strings.Cut(procedure.Field(i).Tag.Get("json"), ","); name != "-" &&
			name != "file" {
			props[name] = object{}
		}
	}
	return object{"type": "object", "properties": props, "additionalProperties": false,
		"required":    []string{"id", "title", "kind"},
		"description": "a procedure, by the keys of its file: procedures/FORMAT.md says what each means"}
}

// fields puts the keys of a struct in, those of what it embeds too.
func (w *schemaOf) fields(of reflect.Type, props object, required *[]string) {
	for i := range of.NumField() {
		f := of.Field(i)
		tag, has := f.Tag.Lookup("json")
		name, options, _ := strings.Cut(tag, ",")
		if f.Anonymous && !has {
			w.fields(f.Type, props, required)
			continue
		}
		if !f.IsExported() || name == "-" {
			continue
		}
		if name == "" {
			name = f.Name
		}
		omitted := strings.Contains(options, "omit")
		from := f.Type
		if omitted && from.Kind() == reflect.Pointer {
			from = from.Elem()
		}
		s := w.schema(from)
		if k := from.Kind(); !omitted && (k == reflect.Slice || k == reflect.Map) {
			s = orNull(s)
		}
		if doc := w.comment(of, f.Name); doc != "" {
			s["description"] = doc
		}
		props[name] = s
		if !omitted {
			*required = append(*required, name)
		}
	}
}

// comment is that of a type, or of a field of it.
func (w *schemaOf) comment(of reflect.Type, field string) string {
	docs := w.docs[of.PkgPath()]
	if docs == nil {
		docs = commentsIn(w.t, of.PkgPath())
		w.docs[of.PkgPath()] = docs
	}
	return docs[strings.TrimSuffix(of.Name()+"."+field, ".")]
}

// commentsIn reads the comments of a package of ours.
func commentsIn(t *testing.T, pkg string) map[string]string {
	t.Helper()
	files, _ := filepath.Glob(filepath.Join("..", "..", strings.TrimPrefix(pkg, "bench/oilcan/"),
		"*.go"))
	out := map[string]string{}
	for _, file := range files {
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok {
				continue
			}
			for _, s := range g.Specs {
				if spec, ok := s.(*ast.TypeSpec); ok {
					typeComments(out, g, spec)
				}
			}
		}
	}
	return out
}

func typeComments(out map[string]string, g *ast.GenDecl, spec *ast.TypeSpec) {
	said := func(groups ...*ast.CommentGroup) string {
		var parts []string
		for _, c := range groups {
			if text := strings.Join(strings.Fields(c.Text()), " "); text != "" {
				parts = append(parts, text)
			}
		}
		return strings.Join(parts, "; ")
	}
	out[spec.Name.Name] = said(g.Doc, spec.Doc)
	st, ok := spec.Type.(*ast.StructType)
	if !ok {
		return
	}
	for _, f := range st.Fields.List {
		for _, n := range f.Names {
			out[spec.Name.Name+"."+n.Name] = said(f.Doc, f.Comment)
		}
	}
}

// compiled gives the schema of a command's output.
func compiled(t *testing.T, words string) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	s, err := c.Compile(schemaFile + "#/$defs/" + strings.ReplaceAll(defName(words), " ", "%20"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

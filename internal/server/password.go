package server

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"fmt"
	"strings"

	"golang.org/x/crypto/argon2"
)

// PasswordSetting is the name under which a store holds the hash of the password.
const PasswordSetting = "password"

// ShortestPassword is how many bytes a password has to have.
const ShortestPassword = 10

// Cost of a hash: the second recommended option of RFC 9106, section 4.
const (
	passes  = 3
	memory  = 64 << 10 // KiB
	threads = 4
	keySize = 32
)

// HashPassword makes what is stored of a password: argon2id with a salt of its own,
// in the form that most libraries write.
func HashPassword(password string) string {
	salt := make([]byte, 16)
	rand.Read(salt) // never fails
	key := argon2.IDKey([]byte(password), salt, passes, memory, threads, keySize)
	enc := base64.RawStdEncoding.EncodeToString
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, memory, passes, threads, enc(salt), enc(key))
}

// passwordIs reports whether a password is the one of a hash.
func passwordIs(password, hash string) bool {
	parts := strings.Split(hash, "$")
	if len(parts) != 6 || parts[1] != "argon2id" {
		return false
	}
	var m, t uint32
	var p uint8
	if _, err := fmt.Sscanf(parts[3], "m=%d,t=%d,p=%d", &m, &t, &p); err != nil || t == 0 || p == 0 {
		return false
	}
	salt, err := base64.RawStdEncoding.DecodeString(parts[4])
	key, err2 := base64.RawStdEncoding.DecodeString(parts[5])
	if err != nil || err2 != nil || len(key) == 0 {
		return false
	}
	return subtle.ConstantTimeCompare(argon2.IDKey([]byte(password), salt, t, m, p, uint32(len(key))), key) == 1
}

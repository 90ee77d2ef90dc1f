#!/usr/bin/env bash
# What a release is made and tested by: `bash .ci/release.sh DIR` packs the package into DIR with its SBOM (CycloneDX), tries it in an empty folder on every Node that is named in NODES,
# verifies the sheets of earlier builds with it, runs the benches' smallest cases and asks for known faults of what it stands on. Ends with 0 where all of it held.
set -euo pipefail
out="$(mkdir -p "${1:?name a folder for the release}" && cd "$1" && pwd)"
cd "$(dirname "$0")/.."
root="$PWD"

npm ci --no-audit --no-fund
empty="$(mktemp -d)"
stage="$(mktemp -d)"
trap 'rm -rf "$empty" "$stage"' EXIT
cp -r bin dist README.md CHANGELOG.md LICENSE package.json "$stage"
# What builds it is no business of who installs it, and npm would warn of it.
(cd "$stage" && npm pkg delete scripts devDependencies allowScripts)
tarball="$out/$(cd "$stage" && npm pack --silent --pack-destination "$out")"
npm sbom --omit=dev --sbom-format=cyclonedx >"$out/sbom.json"
echo "packed $tarball, with $(node -p 'JSON.parse(fs.readFileSync(process.argv[1], "utf8")).components.length' "$out/sbom.json") packages in sbom.json"

cd "$empty"
npm init -y >/dev/null
said="$(npm install --no-audit --no-fund "$tarball" 2>&1)"
if grep -i 'warn' <<<"$said"; then
  echo "installing it prints a warning" >&2
  exit 1
fi

cp -r "$root/fixtures/walks/one-angle-board" walk
rm -f walk/results.json
sums=''
for node in ${NODES:-current}; do
  run=(node)
  [ "$node" = current ] || run=(npx --yes --package "node@$node" node)
  rm -rf walk/.proofwalk walk/results.json walk/sheet.pdf
  "${run[@]}" node_modules/proofwalk/bin/proofwalk.js sheet walk >/dev/null 2>&1
  "${run[@]}" node_modules/proofwalk/bin/proofwalk.js verify walk >/dev/null
  sum="$(cat walk/results.json walk/sheet.pdf | sha256sum)"
  echo "Node $("${run[@]}" --version): results and sheet ${sum:0:16}"
  sums+="$sum"$'\n'
done
[ "$(sort -u <<<"${sums%$'\n'}" | wc -l)" = 1 ] || { echo 'Nodes differ in what they write' >&2; exit 1; }

for sheet in "$root"/fixtures/sheets/*/sheet.pdf "$root"/fixtures/sheets/*/*/sheet.pdf; do
  node_modules/.bin/proofwalk verify "$sheet" >/dev/null || { echo "$sheet does not verify" >&2; exit 1; }
  echo "verified ${sheet#"$root"/}"
done

cd "$root"
[ "${BENCHES:-yes}" = no ] || npm run bench:smallest
audit="$(npm audit --omit=dev 2>&1)" || { grep -q 'audit endpoint returned an error' <<<"$audit" && echo 'npm audit: the registry does not answer' || { echo "$audit" >&2; exit 1; }; }
echo "released into $out"

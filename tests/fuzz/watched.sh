#!/bin/sh
# Puts the fuzzer's probes only into what reads other people's bytes. With them in every crate, the
# screens alone take many gigabytes and minutes to compile.
rustc=$1
shift
case " $* " in
*" --crate-name pentally_domain "* | *" --crate-name pentally_server "* | *" --crate-name serde_json "* | \
  *" --crate-name csv "* | *" --crate-name csv_core "* | *" --crate-name sync "* | *" --crate-name papers "*)
  exec "$rustc" "$@" ;;
esac
for word in "$@"; do
  shift
  case $word in
  -Cpasses=sancov-module | -Cllvm-args=-sanitizer-coverage-* | -Cllvm-args=-simplifycfg-* | -Ccodegen-units=1) ;;
  *) set -- "$@" "$word" ;;
  esac
done
exec "$rustc" "$@"

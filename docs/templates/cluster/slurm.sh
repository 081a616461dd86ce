#!/usr/bin/env bash
#SBATCH --job-name=stopwell
#SBATCH --nodes=4
#SBATCH --ntasks-per-node=1
#SBATCH --cpus-per-task=32
#SBATCH --mem=24G
#SBATCH --time=04:00:00
#
# One exploration on the nodes of one allocation. A job that runs out of time loses nothing: submit it again, and it
# continues. Call it in the directory of Stopwell, built before on a node that reaches the Maven repository:
#
#   ./stopwell explore --on spark --help
#   sbatch docs/templates/cluster/slurm.sh SPACE.yaml OUTPUT-DIRECTORY
set -euo pipefail
space=$1
out=$2
port=${STOPWELL_MASTER_PORT:-7077}
host=$(hostname)
parts=()

# The master and the workers end with this script, however it ends.
trap 'kill "${parts[@]}" 2>/dev/null || true' EXIT
trap 'exit 143' TERM

./stopwell spark master --host "$host" --port "$port" --webui-port 0 2>"$out.master.log" &
parts+=($!)
srun ./stopwell spark worker "spark://$host:$port" \
  --cores "${SLURM_CPUS_PER_TASK:-1}" --memory "${STOPWELL_WORKER_MEMORY:-16g}" --webui-port 0 \
  --work-dir "${TMPDIR:-/tmp}/stopwell-${SLURM_JOB_ID:-0}" 2>"$out.workers.log" &
parts+=($!)
until grep -q 'I have been elected leader' "$out.master.log"; do
  kill -0 "${parts[0]}" # fails when the master has ended: its log says why
  sleep 1
done
./stopwell explore "$space" --on spark --master "spark://$host:$port" --out "$out"

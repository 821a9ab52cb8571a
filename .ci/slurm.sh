#!/usr/bin/env bash
# A one-node Slurm from Debian's packages (slurm-wlm, munge), for inventories run on it:
#   .ci/slurm.sh start FOLDER   daemons, with keys and state in FOLDER
#   .ci/slurm.sh stop FOLDER    ends them
# It needs root (as CI has), no service manager and no accounting database. Jobs find their controller
# by /etc/slurm/slurm.conf alone, which is linked here and taken away again; one that is there is kept,
# and the script ends.
set -euo pipefail

action=${1:?start or stop}
folder=${2:?a folder for keys, state and logs}
site=/etc/slurm/slurm.conf

ended() {
  for name in slurmd slurmctld munged; do
    [ -f "$folder/$name.pid" ] && kill "$(cat "$folder/$name.pid")" 2>/dev/null || true
  done
  if [ -L "$site" ]; then rm "$site"; fi
}

if [ "$action" = stop ]; then
  ended
  exit 0
fi

if [ -e "$site" ]; then
  echo "$site is there: this machine has a Slurm of its own" >&2
  exit 1
fi
mkdir -p "$folder"/{state,spool,run} /etc/slurm
folder=$(cd "$folder" && pwd)
ln -sfn "$folder/slurm.conf" "$site"
chmod 0711 "$folder" && chmod 0755 "$folder/run"
host=$(hostname -s)
memory=$(awk '/MemTotal/ { print int($2 / 1024 * 0.9) }' /proc/meminfo)
port=$((20000 + RANDOM % 20000))

dd if=/dev/urandom of="$folder/munge.key" bs=1024 count=1 2>/dev/null
chmod 0600 "$folder/munge.key"
munged --force --num-threads=2 --key-file="$folder/munge.key" --socket="$folder/run/munge.socket" \
  --pid-file="$folder/munged.pid" --log-file="$folder/munged.log" --seed-file="$folder/munged.seed"

cat >"$folder/slurm.conf" <<CONF
ClusterName=bank
SlurmctldHost=$host(127.0.0.1)
SlurmctldPort=$port
SlurmdPort=$((port + 1))
SlurmUser=root
SlurmdUser=root
AuthType=auth/munge
AuthInfo=socket=$folder/run/munge.socket
CredType=cred/munge
MpiDefault=none
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
JobAcctGatherType=jobacct_gather/none
AccountingStorageType=accounting_storage/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core_Memory
StateSaveLocation=$folder/state
SlurmdSpoolDir=$folder/spool
SlurmctldPidFile=$folder/slurmctld.pid
SlurmdPidFile=$folder/slurmd.pid
SlurmctldLogFile=$folder/slurmctld.log
SlurmdLogFile=$folder/slurmd.log
ReturnToService=2
MinJobAge=600
SchedulerParameters=sched_interval=2,batch_sched_delay=0
NodeName=$host NodeAddr=127.0.0.1 CPUs=$(nproc) RealMemory=$memory State=UNKNOWN
PartitionName=all Nodes=ALL Default=YES MaxTime=INFINITE State=UP
CONF

slurmctld
slurmd
for _ in $(seq 100); do
  [ "$(sinfo --noheader --format=%T 2>/dev/null)" = idle ] && break
  sleep 0.2
done
if [ "$(sinfo --noheader --format=%T)" != idle ]; then
  cat "$folder"/*.log >&2
  ended
  exit 1
fi

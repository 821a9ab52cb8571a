#!/usr/bin/env bash
# Two Python environments with the public Jupyter kernel test suite: one under the last jupyter_client
# 7, one under the current one; one with Snakemake and its executor for Slurm, on which inventories
# run; and one with JupyterLab and its widgets and the classic notebook, through which a browser is
# driven, nbconvert and papermill. They go to the folder given, else to BANQUETTE_PYTHON_FOLDER, else to
# ~/.cache/banquette-ci; what is there already is kept.
set -euo pipefail

folder=${1:-${BANQUETTE_PYTHON_FOLDER:-$HOME/.cache/banquette-ci}}
suite="jupyter_kernel_test==0.7.0"

environment() {
  local name=$1 module=$2
  shift 2
  "$folder/$name/bin/python" -c "import $module" 2>/dev/null && return
  python3 -m venv "$folder/$name"
  "$folder/$name/bin/python" -m pip install --quiet --disable-pip-version-check "$@"
}

mkdir -p "$folder"
environment old jupyter_kernel_test "$suite" "jupyter_client==7.4.9"
environment new jupyter_kernel_test "$suite" "jupyter_client>=8"
environment lab "jupyterlab_widgets, nbclassic, papermill" \
  "jupyterlab==4.*" "jupyterlab_widgets==3.*" "nbclassic==1.*" "papermill==2.*"
environment snakemake snakemake_executor_plugin_slurm "snakemake==9.*" "snakemake-executor-plugin-slurm==2.*"

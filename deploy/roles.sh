#!/bin/sh
# First start of the database container: the owner that migrates and the role that the service runs as.
# app_rw owns nothing and cannot bypass row level security; the service refuses to run as anybody who can.
set -eu
psql -v ON_ERROR_STOP=1 -U postgres -v owner_pw="$APP_OWNER_PASSWORD" -v rw_pw="$APP_RW_PASSWORD" <<'SQL'
CREATE ROLE app_owner LOGIN PASSWORD :'owner_pw';
CREATE ROLE app_rw LOGIN PASSWORD :'rw_pw';
CREATE DATABASE meniscus OWNER app_owner;
SQL
psql -v ON_ERROR_STOP=1 -U postgres -d meniscus -c 'ALTER SCHEMA public OWNER TO app_owner'
